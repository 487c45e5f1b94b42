// The rotation clock as numbers: always computed from moments, never counted, so that a sleeping tab is right again at once.

// ServerTime tells the server's time by the last answer's, carried on by a clock of the device that nobody can set. When the device
// slept, that clock may have stood still: the wall clock says for how long.
export class ServerTime {
  #way = Infinity; // of the answer that the time is from: it may be wrong by half of that
  #server = Date.now(); #steady = performance.now(); #wall = Date.now();

  // heard takes the server's moment of an answer, and how long the answer was on its way, there and back; both in ms. A slow answer
  // that agrees with a quicker one before teaches nothing.
  heard(server, way) {
    const moment = server + way / 2;
    if (!(server > 0) || (way > this.#way && Math.abs(moment - this.now()) <= (way + this.#way) / 2)) return;
    this.#way = way;
    this.#server = moment;
    this.#steady = performance.now();
    this.#wall = Date.now();
    try {
      localStorage.setItem("rungbook-ahead", String(this.#server - this.#wall));
    } catch {
      // Only a reload without a network would need it.
    }
  }

  // recall starts from how far the server was ahead of this device's clock when it last answered.
  recall() {
    try {
      const ahead = Number(localStorage.getItem("rungbook-ahead"));
      if (Number.isFinite(ahead)) this.#server = this.#wall + ahead;
    } catch {
      // The device's own time has to do.
    }
  }

  now() {
    const steady = performance.now() - this.#steady, wall = Date.now() - this.#wall;
    const slept = wall - steady > 1000 && wall - steady < 2 * 60 * 60 * 1000;
    return this.#server + (slept ? wall : steady);
  }
}

// left is how many ms a rotation still has; below zero when it is over its time. work is its length in seconds.
export function left(clock, work, now) {
  const gone = clock.elapsed + (clock.state === "running" && clock.started !== null ? Math.max(0, now - clock.started) : 0);
  return work * 1000 - gone;
}

// face is "3:20", or "+0:15" over time.
export function face(ms) {
  const seconds = ms >= 0 ? Math.ceil(ms / 1000) : Math.floor(-ms / 1000);
  return (ms < 0 && seconds > 0 ? "+" : "") + Math.floor(seconds / 60) + ":" + String(seconds % 60).padStart(2, "0");
}

// after is the clock as a button leaves it, for a device that has to go on alone; rotations is how many there are.
export function after(clock, button, rotations, now) {
  const gone = clock.elapsed + (clock.state === "running" && clock.started !== null ? Math.max(0, now - clock.started) : 0);
  switch (button) {
    case "start": return { ...clock, state: "running", started: now, elapsed: clock.state === "running" ? gone : clock.elapsed };
    case "pause": return { ...clock, state: "paused", started: null, elapsed: gone };
    case "next": return turned(clock, Math.min(rotations, clock.rotation + 1), now);
    case "back": return turned(clock, Math.max(1, clock.rotation - 1), now);
    case "restart": return turned(clock, clock.rotation, now);
  }
  return clock;
}

const turned = (clock, rotation, now) => ({ ...clock, rotation, elapsed: 0, started: clock.state === "running" ? now : null });
