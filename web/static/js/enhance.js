// Progressive enhancement. Every link and form works without this file.
const byId = id => document.getElementById(id);

function say(text) {
  const live = byId("live");
  live.textContent = "";
  setTimeout(() => { live.textContent = text; }, 50);
}

function put(page, id) {
  const now = byId(id), next = page.getElementById(id);
  if (!now || !next) return null;
  now.replaceWith(next);
  return next;
}

// Replace the element that selector names, and the flash, from the page at url.
async function swap(selector, url, init) {
  const id = selector.slice(1), focused = document.activeElement?.id;
  byId(id)?.setAttribute("aria-busy", "true");
  let answer, page;
  try {
    answer = await fetch(url, init);
    page = new DOMParser().parseFromString(await answer.text(), "text/html");
  } catch {
    byId(id)?.removeAttribute("aria-busy");
    if (!init) return location.assign(url);
    return say(byId("live").dataset.unsent);
  }
  if (!page.getElementById(id) && (!init || answer.redirected)) return location.assign(answer.url);
  const flash = put(page, "flash");
  const next = put(page, id) || put(page, "main");
  if (!init) {
    history.replaceState({ swap: 1 }, "");
    history.pushState({ swap: 1 }, "", answer.url);
    document.title = page.title;
  }
  const to = next?.querySelector("[data-focus]") || byId(focused) || next;
  if (to === next) next.tabIndex = -1;
  to?.focus({ preventScroll: to === next });
  say(next?.dataset.say || flash?.innerText.trim() || byId("live").dataset.updated);
}

const unsaved = new Set();

document.addEventListener("input", e => {
  const form = e.target.form;
  if (form && "keep" in form.dataset) unsaved.add(form);
});

addEventListener("beforeunload", e => {
  if ([...unsaved].some(form => form.isConnected)) e.preventDefault();
});

addEventListener("popstate", e => { if (e.state?.swap) location.reload(); });

document.addEventListener("submit", e => {
  const form = e.target, button = e.submitter;
  const question = button?.dataset.confirm || form.dataset.confirm;
  if (form.dataset.sent || (question && !confirm(question))) return e.preventDefault();
  unsaved.delete(form);
  const post = /post/i.test(form.getAttribute("method"));
  if (post) {
    form.dataset.sent = "1";
    setTimeout(() => delete form.dataset.sent, 4000);
  }
  const target = button?.dataset.swap || form.dataset.swap;
  if (!target || e.defaultPrevented) return;
  e.preventDefault();
  const url = new URL(button?.getAttribute("formaction") || form.getAttribute("action") || "", location);
  const data = new FormData(form, button);
  const body = form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
  if (!post) url.search = body;
  swap(target, url.href, post ? { method: "POST", body } : undefined).finally(() => delete form.dataset.sent);
});

document.addEventListener("click", e => {
  const on = e.target.closest("a, button");
  if (on?.matches("[data-print]")) print();
  if (on?.matches("a[data-swap]") && !e.button && !(e.metaKey || e.ctrlKey || e.shiftKey || e.altKey)) {
    e.preventDefault();
    swap(on.dataset.swap, on.href);
  }
  closeMenus(menu => !menu.contains(e.target));
});

document.addEventListener("keydown", e => {
  if (e.key === "Escape") closeMenus(() => true);
});

function closeMenus(when) {
  for (const menu of document.querySelectorAll("details.menu[open]")) {
    if (!when(menu)) continue;
    if (menu.contains(document.activeElement)) menu.querySelector("summary").focus();
    menu.open = false;
  }
}

document.querySelector("[data-focus]")?.focus();

// This device has entries of a class sheet that the server has not confirmed.
try {
  if (localStorage.getItem("rungbook-waiting") && !byId("sheet")) import("./waiting.js").catch(() => {});
} catch {
  // Without storage nothing waits.
}
