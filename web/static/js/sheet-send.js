// Sends the outbox: one tab of this device at a time, in order, and again with growing pauses until everything is confirmed.
// An item leaves the outbox only on the server's word for that item.
import { flag } from "./outbox.js";

const BATCH = 100, PATIENCE = 15000, LONGEST = 30000;

// onState is told { state, waiting, loose, others }: state is "sent", "waiting", "offline", "signed-out" or "refused"; waiting counts
// the entries, others those that another account tapped.
export class Sender {
  #outbox; #account; #onState;
  #busy = false; #failures = 0; #timer = 0; #trouble = "";

  // account is who is signed in, or "" where the page does not know: the server then tells whose items it takes.
  constructor(outbox, account, onState) {
    this.#outbox = outbox;
    this.#account = account;
    this.#onState = onState;
    addEventListener("online", () => this.now());
    addEventListener("offline", () => { this.#trouble = "offline"; this.tell(); });
    document.addEventListener("visibilitychange", () => { if (!document.hidden) this.now(); });
  }

  // now tries at once, whatever pause was running.
  now() {
    this.#failures = 0;
    return this.#run();
  }

  // reached takes over what another request has found out: whether the server answers.
  reached(yes) {
    const was = this.#trouble;
    if (!yes) this.#trouble ||= "offline";
    else if (was === "offline" || was === "signed-out") this.#trouble = "";
    if (was === this.#trouble) return;
    if (yes) this.now();
    else this.tell();
  }

  async tell() {
    const all = await this.#outbox.waiting();
    const mine = this.#account ? all.filter(e => e.by === this.#account) : all;
    flag(all.length > 0 || (await this.#outbox.told()).length > 0);
    const offline = this.#trouble === "offline" || (!navigator.onLine && !this.#trouble);
    const state = offline ? "offline" : this.#trouble || (mine.length ? "waiting" : "sent");
    this.#onState({ state, waiting: mine, loose: this.#outbox.loose, others: all.length - mine.length });
    if (mine.length) this.#later();
  }

  async #run() {
    clearTimeout(this.#timer);
    this.#timer = 0;
    if (this.#busy) return;
    this.#busy = true;
    try {
      await alone(() => this.#drain());
    } catch {
      // The device's storage failed: what was sent is sent again, and the server knows it.
    } finally {
      this.#busy = false;
    }
    await this.tell();
  }

  // Every tab tries again by itself: the one that tapped may be gone.
  #later() {
    if (this.#timer || this.#busy) return;
    const pause = Math.min(LONGEST, 1000 * 2 ** this.#failures++) * (0.5 + Math.random());
    this.#timer = setTimeout(() => this.#run(), pause);
  }

  async #drain() {
    const skipped = new Set(); // items and accounts that the server does not take now
    let size = BATCH;
    for (;;) {
      const left = (await this.#outbox.waiting()).filter(e => !skipped.has(e.id) && !skipped.has(e.by) && (!this.#account || e.by === this.#account));
      if (!left.length) return;
      const batch = left.filter(e => e.by === left[0].by).slice(0, size);
      const { status, body } = await post(batch);
      this.#trouble = troubleOf(status);
      if (status === 200) {
        await this.#take(batch, body.answers ?? []);
        this.#failures = 0;
        for (const e of batch) if (!body.answers?.some(a => a.id === e.id)) skipped.add(e.id);
      } else if (status === 409) {
        skipped.add(batch[0].by);
      } else if ([400, 413, 422].includes(status)) {
        if (batch.length === 1) skipped.add(batch[0].id);
        size = Math.max(1, Math.floor(batch.length / 2));
      } else {
        return;
      }
    }
  }

  #take(batch, answers) {
    const known = answers.filter(a => batch.some(e => e.id === a.id));
    const told = known.filter(a => a.words && !["stored", "duplicate"].includes(a.answer))
      .map(a => ({ id: a.id, by: batch[0].by, words: a.words }));
    return this.#outbox.settle(known.map(a => a.id), told);
  }
}

// alone runs work unless another tab of this device is at it. Without locks two tabs may both send: the server takes each item once.
const alone = work => navigator.locks ? navigator.locks.request("rungbook-send", { ifAvailable: true }, lock => lock && work()) : work();

async function post(batch) {
  try {
    const answer = await fetch("/sheet/items", {
      method: "POST", signal: AbortSignal.timeout(PATIENCE),
      headers: { "Content-Type": "application/json", "Tapped-By": batch[0].by },
      body: JSON.stringify({ items: batch.map(e => e.item) }),
    });
    return { status: answer.status, body: answer.ok ? await answer.json() : null };
  } catch {
    return { status: 0 };
  }
}

function troubleOf(status) {
  switch (status) {
    case 0: return "offline";
    case 401: return "signed-out";
    case 403: case 404: return "refused";
    case 400: case 413: case 422: return "refused";
  }
  return status === 200 || status === 409 ? "" : "offline";
}

// stateInWords says how it stands with what was tapped here, for everybody.
export function stateInWords({ state, waiting, loose }) {
  const n = waiting.length, they = entries(waiting);
  if (loose) return `This device could not store ${loose === 1 ? "1 entry" : loose + " entries"}. Keep this page open until everything is sent.`;
  if (state === "sent") return "All sent";
  if (state === "signed-out") return n ? `You are signed out: ${they} kept on this device` : "You are signed out";
  if (state === "offline") return n ? `No network: ${they} kept on this device` : "No network: marks are kept on this device";
  if (state === "refused") return n ? `The server does not take ${they} from you now: kept on this device` : "All sent";
  return `${they} waiting to send`;
}

function entries(list) {
  const word = list.every(e => e.item.kind === "mark") ? "mark" : "entry";
  return list.length === 1 ? `1 ${word}` : `${list.length} ${word === "mark" ? "marks" : "entries"}`;
}
