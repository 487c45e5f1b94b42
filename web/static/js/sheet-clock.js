// The rotation clock on the page: shared by all devices through the server; without a network this device goes on alone and says so.
import { after, face, left } from "./clock.js";

export class Clock {
  #root; #time; #say; #clock = null; #rotations = 1; #work = 0;
  #alone = false; #sound = null; #beep = null; #said = ""; #lock = null;

  constructor(root, time, say) {
    this.#root = root;
    this.#time = time;
    this.#say = say;
    if (!root) return;
    root.querySelector("#clock-face").addEventListener("click", () => this.#large(!("large" in root.dataset)));
    root.querySelector("#clock-sound").addEventListener("click", e => this.#toggleSound(e.currentTarget));
    addEventListener("keydown", e => { if (e.key === "Escape" && "large" in root.dataset) this.#large(false); });
    document.addEventListener("visibilitychange", () => this.#draw());
    setInterval(() => this.#draw(), 250);
  }

  // set takes the clock of a state. A clock that runs alone is handed over first, not overwritten.
  set(state) {
    this.#rotations = state.rotations;
    this.#work = state.work_seconds;
    if (!this.#alone && (!this.#clock || state.clock.version >= this.#clock.version)) this.#take(state.clock);
  }

  press(button) {
    if (!this.#clock) return;
    const version = this.#clock.version;
    this.#take(after(this.#clock, button, this.#rotations, this.#time.now()));
    if (!this.#alone) this.#send({ do: button, version });
  }

  // online hands the clock over that ran alone meanwhile.
  online() {
    if (!this.#alone) return;
    this.#alone = false;
    const { state, rotation, version } = this.#clock, gone = this.#work * 1000 - left(this.#clock, this.#work, this.#time.now());
    this.#send({ do: "set", state, rotation, elapsed: Math.round(gone), version });
  }

  async #send(fields) {
    const form = this.#root.querySelector("form"), asked = performance.now();
    try {
      const answer = await fetch(form.getAttribute("action"), { method: "POST", headers: { Accept: "application/json" }, body: new URLSearchParams(fields), signal: AbortSignal.timeout(8000) });
      if (answer.status >= 500 || answer.status === 401) throw new Error("no answer");
      const body = await answer.json();
      this.#time.heard(body.now, performance.now() - asked);
      if (body.clock) this.#take(body.clock);
      if (answer.status === 409) this.#say("Another device set the clock meanwhile: this is its time.");
    } catch {
      this.#alone = true;
      this.#say("No network: the clock goes on with this device alone.");
    }
  }

  #take(clock) {
    const moved = this.#clock && this.#clock.rotation !== clock.rotation;
    this.#clock = clock;
    this.#root?.dispatchEvent(new CustomEvent("rotation", { bubbles: true, detail: { rotation: clock.rotation, moved } }));
    this.#schedule();
    this.#draw();
  }

  #draw() {
    const clock = this.#clock;
    if (!clock || !this.#root) return;
    const ms = left(clock, this.#work, this.#time.now()), byId = id => this.#root.querySelector("#" + id);
    set(byId("clock-time"), face(ms));
    byId("clock-time").toggleAttribute("data-low", ms < 60000 && clock.state !== "ready");
    set(byId("clock-words"), `Rotation ${clock.rotation} of ${this.#rotations}` + this.#stateInWords(ms));
    const go = byId("clock-go"), running = clock.state === "running";
    set(go, running ? "Pause" : clock.state === "paused" ? "Go on" : "Start");
    go.value = running ? "pause" : "start";
    this.#root.querySelector("[name=version]").value = clock.version;
    this.#announce(ms, running);
  }

  #stateInWords(ms) {
    const words = { ready: ", not started", paused: ", paused", running: ms < 0 ? ", time is up: change over" : "" }[this.#clock.state];
    return words + (this.#alone ? ". No network: on this device alone" : "");
  }

  #announce(ms, running) {
    const step = !running ? "" : ms <= 0 ? "up" : ms <= 60000 ? "minute" : "";
    const key = this.#clock.rotation + step;
    if (!step || this.#said === key) return;
    this.#said = key;
    this.#say(step === "up" ? "Time is up: change over." : "One minute left.");
  }

  #large(on) {
    const button = this.#root.querySelector("#clock-face");
    this.#root.toggleAttribute("data-large", on);
    button.ariaExpanded = String(on);
    set(this.#root.querySelector("#clock-hint"), on ? "Show the clock small" : "Show the clock large");
    this.#lock?.then(lock => lock?.release());
    this.#lock = on ? navigator.wakeLock?.request("screen").catch(() => null) : null; // a clock that goes dark is not read
  }

  #toggleSound(button) {
    this.#sound = this.#sound ? (this.#sound.close(), null) : new AudioContext();
    button.ariaPressed = String(Boolean(this.#sound));
    button.textContent = this.#sound ? "Sound on" : "Sound off";
    this.#schedule();
  }

  // The sound is ordered ahead of time, so that it comes also while the tab sleeps.
  #schedule() {
    this.#beep?.stop();
    this.#beep = null;
    const ms = this.#clock ? left(this.#clock, this.#work, this.#time.now()) : 0;
    if (!this.#sound || this.#clock?.state !== "running" || ms <= 0) return;
    const beep = this.#sound.createOscillator(), level = this.#sound.createGain(), at = this.#sound.currentTime + ms / 1000;
    beep.frequency.value = 660;
    level.gain.value = 0.3;
    beep.connect(level).connect(this.#sound.destination);
    beep.start(at);
    beep.stop(at + 0.8);
    this.#beep = beep;
  }
}

function set(element, text) {
  if (element.textContent !== text) element.textContent = text;
}
