// The outbox: what was tapped on this device and the server has not confirmed yet. It lives in IndexedDB, shared by all tabs. An item
// is never changed once it is written. A page that cannot store keeps its items in memory ("loose") and says so.
const NAME = "rungbook", VERSION = 1, ITEMS = "items", DEVICE = "device", TOLD = "told";

// A UUID of version 7 (RFC 9562, 5.7): 48 bits of milliseconds, then chance. Works without a secure context.
export function newId(now = Date.now()) {
  const b = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 5, ms = Math.max(0, now); i >= 0; i--, ms = Math.floor(ms / 256)) b[i] = ms % 256;
  b[6] = 0x70 | (b[6] & 0x0f);
  b[8] = 0x80 | (b[8] & 0x3f);
  const hex = [...b].map(x => x.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

const answered = request => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

// complete settles when a transaction is on the disk, or has failed as a whole.
const complete = tx => new Promise((done, failed) => {
  tx.oncomplete = done;
  tx.onabort = () => failed(tx.error ?? new Error("the transaction was given up"));
});

export class Outbox {
  #db = null;
  #loose = new Map();
  #looseDevice = { id: newId(), seq: 0 };
  #channel = "BroadcastChannel" in self ? new BroadcastChannel("rungbook-outbox") : null;

  // onChange is called when the outbox changed in this tab or in another.
  constructor(onChange = () => {}) {
    this.onChange = onChange;
    if (this.#channel) this.#channel.onmessage = () => this.#changed(false);
  }

  // put writes an item of an account. It resolves once the item is on the disk, and rejects when it could not be stored; the item is
  // then kept in memory and sent from there.
  async put(by, item) {
    const entry = { id: item.id, by, item };
    try {
      const db = await this.#open();
      const tx = db.transaction([ITEMS, DEVICE], "readwrite", { durability: "strict" });
      const done = complete(tx), device = tx.objectStore(DEVICE);
      const read = device.get("self");
      read.onsuccess = () => {
        const self = read.result ?? { name: "self", id: newId(), seq: 0 };
        self.seq++;
        device.put(self);
        tx.objectStore(ITEMS).add({ ...entry, item: { ...item, device: self.id, seq: self.seq } });
      };
      await done;
    } catch (error) {
      this.#looseDevice.seq++;
      this.#loose.set(entry.id, { ...entry, item: { ...item, device: this.#looseDevice.id, seq: this.#looseDevice.seq } });
      this.#changed();
      throw error;
    }
    this.#changed();
  }

  // waiting lists what is not confirmed, in the order of the taps.
  async waiting() {
    let stored = [];
    try {
      const db = await this.#open();
      stored = await answered(db.transaction(ITEMS).objectStore(ITEMS).getAll());
    } catch {
      // Nothing can be read; what is loose is still known.
    }
    return [...stored.sort((a, b) => a.item.seq - b.item.seq), ...this.#loose.values()];
  }

  get loose() { return this.#loose.size; }

  // settle takes confirmed entries out, and keeps beside them the words that somebody has to read: told is [{ id, by, words }].
  async settle(ids, told) {
    for (const id of ids) this.#loose.delete(id);
    try {
      const db = await this.#open();
      const tx = db.transaction([ITEMS, TOLD], "readwrite", { durability: "strict" });
      const done = complete(tx);
      for (const t of told) tx.objectStore(TOLD).put(t);
      for (const id of ids) tx.objectStore(ITEMS).delete(id);
      await done;
    } finally {
      this.#changed();
    }
  }

  // told lists the words of an account, or of all without one, that nobody has ticked off.
  async told(by) {
    try {
      const db = await this.#open();
      return (await answered(db.transaction(TOLD).objectStore(TOLD).getAll())).filter(t => !by || t.by === by);
    } catch {
      return [];
    }
  }

  // forget takes words away that have been read.
  async forget(ids) {
    const db = await this.#open();
    const tx = db.transaction(TOLD, "readwrite");
    for (const id of ids) tx.objectStore(TOLD).delete(id);
    await complete(tx);
    this.#changed();
  }

  #changed(tell = true) {
    if (tell) this.#channel?.postMessage("changed");
    this.onChange();
  }

  #open() {
    this.#db ??= new Promise((done, failed) => {
      const request = indexedDB.open(NAME, VERSION);
      request.onupgradeneeded = () => {
        request.result.createObjectStore(ITEMS, { keyPath: "id" });
        request.result.createObjectStore(DEVICE, { keyPath: "name" });
        request.result.createObjectStore(TOLD, { keyPath: "id" });
      };
      request.onsuccess = () => {
        const db = request.result;
        db.onclose = () => { this.#db = null; };
        db.onversionchange = () => { db.close(); this.#db = null; };
        done(db);
      };
      request.onerror = request.onblocked = () => { this.#db = null; failed(request.error); };
    });
    return this.#db;
  }
}

// The flag tells every page whether this device has items to send or words to read, so that waiting.js is loaded only then.
export function flag(on) {
  try {
    if (on) localStorage.setItem("rungbook-waiting", "yes");
    else localStorage.removeItem("rungbook-waiting");
  } catch {
    // Without storage the sheet itself still sends.
  }
}
