// Timers of the drills at home. The page says everything without this file: sets, repeats and seconds stand beside each drill.
const getReady = 5, betweenRepeats = 5, betweenSets = 30; // seconds; common practice, no source

// phasesOf lists what comes after what. A phase without seconds counts up and waits for a tap.
function phasesOf({ sets, repeats, hold, sides }, texts) {
  const phases = [{ words: texts.ready, seconds: getReady }];
  const names = +sides === 2 ? [`${texts.first} `, `${texts.other} `] : [""];
  for (const side of names) {
    for (let set = 1; set <= +sets; set++) {
      const of = side + fill(texts.set, { set, sets });
      if (+hold) {
        for (let turn = 1; turn <= +repeats; turn++) {
          if (turn > 1) phases.push({ words: texts.loosen, seconds: betweenRepeats });
          phases.push({ words: of + (+repeats > 1 ? fill(texts.turn, { turn, turns: repeats }) : texts.hold), seconds: +hold });
        }
      } else {
        phases.push({ words: of + fill(texts.times, { times: repeats }) });
      }
      phases.push({ words: texts.rest, seconds: betweenSets });
    }
  }
  phases.pop(); // no rest after the last set
  return phases;
}

// fill puts values where their names stand in braces.
function fill(text, values) {
  return text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

function say(text) {
  const live = document.getElementById("live");
  if (live) live.textContent = text;
}

// beep is for whoever cannot look at the screen just now.
function beep(audio, high) {
  if (!audio) return;
  const tone = audio.createOscillator(), volume = audio.createGain();
  tone.frequency.value = high ? 880 : 587;
  volume.gain.setValueAtTime(0.2, audio.currentTime);
  volume.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + 0.35);
  tone.connect(volume).connect(audio.destination);
  tone.start();
  tone.stop(audio.currentTime + 0.35);
}

const clock = seconds => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;

// start runs the timer in box until it ends, is ended, or leaves the page.
function start(box) {
  const part = name => box.querySelector(name);
  const face = part(".home-timer-face"), words = part(".home-timer-words"), go = part("[data-go]"), next = part("[data-next]"), end = part("[data-end]");
  const texts = JSON.parse(box.closest("[data-timer-words]").dataset.timerWords);
  const phases = phasesOf(box.dataset, texts);
  const audio = window.AudioContext ? new AudioContext() : null;
  let at = -1, began = 0, ticking = 0;

  function show(running) {
    face.hidden = words.hidden = end.hidden = !running;
    go.hidden = running;
    box.toggleAttribute("data-running", running);
  }

  function stop(last) {
    clearInterval(ticking);
    audio?.close();
    show(false);
    next.hidden = true;
    if (!last) return go.focus();
    words.hidden = false;
    words.textContent = last;
    say(last);
    box.parentElement.querySelector(".home-done button")?.focus();
  }

  function step() {
    at++;
    if (at === phases.length) {
      beep(audio, false);
      return setTimeout(stop, 400, texts.end);
    }
    began = Date.now();
    const phase = phases[at];
    words.textContent = phase.words;
    say(phase.words);
    beep(audio, at % 2 === 1);
    next.hidden = Boolean(phase.seconds);
    if (!phase.seconds) next.focus();
    tick();
  }

  function tick() {
    if (!box.isConnected) return stop();
    const gone = Math.floor((Date.now() - began) / 1000), { seconds } = phases[at] ?? {};
    face.textContent = clock(seconds ? Math.max(0, seconds - gone) : gone);
    if (seconds && gone >= seconds) step();
  }

  next.onclick = step;
  end.onclick = () => stop();
  show(true);
  end.focus();
  step();
  ticking = setInterval(tick, 250);
}

document.addEventListener("click", e => {
  const go = e.target.closest("[data-timer] [data-go]");
  if (go) start(go.closest("[data-timer]"));
});
