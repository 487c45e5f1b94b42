// Follows work in the background: reads the page again every second and a half until nothing is left to do.
const every = 1500; // milliseconds

async function look() {
  const box = document.getElementById("progress");
  if (!box || !("open" in box.dataset)) return;
  try {
    const answer = await fetch(box.dataset.url);
    const next = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("progress");
    if (next) {
      const ended = !("open" in next.dataset);
      const held = box.contains(document.activeElement) && !ended; // a button that somebody is about to press stays
      if (held) box.querySelector(".progress")?.replaceWith(next.querySelector(".progress"));
      else box.replaceWith(next);
      if (ended) document.getElementById("live").textContent = next.innerText.trim();
    }
  } catch {
    // no network: the next look may have one
  }
  setTimeout(look, every);
}

setTimeout(look, every);
