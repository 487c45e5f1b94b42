// Keeps what the sheet needs without a network: its files, and for 12 hours at most tonight's page, state and what to do first.
const SHELL = "rungbook-shell", TONIGHT = "rungbook-tonight";

// canKeep reports whether this browser opens pages without a network: it needs https, or this very machine.
export const canKeep = () => "serviceWorker" in navigator && "caches" in self;

// keep registers the service worker and stores the copies; it rejects when one of them could not be stored.
export async function keep(paths) {
  await navigator.serviceWorker.register("/sw.js", { scope: "/" });
  await keepShell();
  const tonight = await caches.open(TONIGHT);
  await Promise.all(paths.map(path => keepPage(tonight, path)));
}

// keeps reports whether there is a copy of a page, from now or from before.
export async function keeps(path) {
  if (!canKeep()) return false;
  const copy = await caches.open(TONIGHT).then(cache => cache.match(path)).catch(() => undefined);
  return copy !== undefined;
}

// drop throws the copies away: the lesson is not this person's any more.
export const drop = () => canKeep() ? caches.delete(TONIGHT) : Promise.resolve();

// keepState puts a newer state in place of the one that is kept.
export async function keepState(path, body) {
  if (canKeep()) await put(await caches.open(TONIGHT), path, body, { kind: "application/json" });
}

async function keepPage(cache, path) {
  const answer = await fetch(path, { cache: "no-store" });
  if (!answer.ok || answer.redirected || answer.headers.has("Kept-At")) return;
  await put(cache, path, await answer.text(), { kind: answer.headers.get("Content-Type"), policy: answer.headers.get("Content-Security-Policy") });
}

// A copy keeps the content policy of its page.
function put(cache, path, body, { kind, policy }) {
  const headers = { "Content-Type": kind, "Kept-At": String(Date.now()), "X-Content-Type-Options": "nosniff" };
  if (policy) headers["Content-Security-Policy"] = policy;
  return cache.put(path, new Response(body, { headers }));
}

async function keepShell() {
  const used = performance.getEntriesByType("resource").map(e => e.name.split("#")[0]).filter(url => new URL(url).pathname.startsWith("/static/"));
  const urls = [...new Set([...used, new URL("./waiting.js", import.meta.url).href, ...[...document.querySelectorAll("link[href], script[src]")].map(e => e.href || e.src)])];
  const shell = await caches.open(SHELL);
  for (const request of await shell.keys()) if (!urls.includes(request.url)) await shell.delete(request);
  await shell.addAll(urls);
}
