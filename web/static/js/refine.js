// After a proposal that is not proven best, asks once for a longer search (the form #refine) and shows what it found. A touch, a key or
// another form stops the search: what a teacher begins is never overtaken. The page works without this file.
let search = null;

function stop() {
  search?.abort();
  search = null;
}

async function refine(form) {
  search = new AbortController();
  try {
    const body = new URLSearchParams(new FormData(form));
    const answer = await fetch(form.action, { method: "POST", body, signal: search.signal });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const better = page.getElementById("plan");
    if (!answer.ok || !better || !search) return;
    document.getElementById("plan").replaceWith(better);
    document.getElementById("live").textContent = better.querySelector("[data-goodness]")?.textContent ?? "";
  } catch {
    // The search was stopped, or the network is gone: the plan that is shown stands.
  }
  search = null;
}

function look() {
  const form = document.getElementById("refine");
  if (!form || form.dataset.begun) return;
  form.dataset.begun = "yes";
  refine(form);
}

for (const kind of ["pointerdown", "keydown", "submit"]) document.addEventListener(kind, stop, true);
new MutationObserver(look).observe(document.getElementById("main"), { childList: true, subtree: true });
look();
