// The service worker: opens the class sheet without a network. The sheet itself puts the copies into the caches (sheet-offline.js);
// this file only reads them, and throws them away at sign-in, at sign-out and after 12 hours.
const SHELL = "rungbook-shell", TONIGHT = "rungbook-tonight";
const LONGEST = 12 * 60 * 60 * 1000, PATIENCE = 4000;
const keptPath = /^\/lessons\/[0-9a-f-]{36}\/(sheet|sheet\.json|stop)$/;
const hashed = /\.[0-9a-f]{12}\.[a-z]+$/;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", e => e.waitUntil(Promise.all([self.clients.claim(), dropOld()])));

self.addEventListener("fetch", e => {
  const request = e.request, url = new URL(request.url);
  if (url.origin !== location.origin) return;
  if (request.method === "POST" && url.pathname === "/sign-out") {
    e.respondWith(fetch(request).catch(() => stillIn()).finally(() => caches.delete(TONIGHT)));
  } else if (request.method === "POST" && url.pathname === "/sign-in") {
    e.respondWith(fetch(request).then(answer => caches.delete(TONIGHT).then(() => answer)));
  } else if (request.method !== "GET") {
    return;
  } else if (url.pathname.startsWith("/static/")) {
    e.respondWith(asset(request, url));
  } else if (keptPath.test(url.pathname)) {
    e.respondWith(tonight(request, url));
  } else if (request.mode === "navigate") {
    e.respondWith(fetch(request).catch(() => without()));
  }
});

// A name with a hash never changes; any other is asked for first.
async function asset(request, url) {
  const shell = await caches.open(SHELL), copy = await shell.match(request.url);
  if (copy && hashed.test(url.pathname)) return copy;
  return copy ? first(fetch(request), copy) : fetch(request);
}

async function tonight(request, url) {
  const copy = await fresh(url.pathname);
  if (!copy) return fetch(request).catch(error => request.mode === "navigate" ? without() : Promise.reject(error));
  const answer = await first(fetch(request), copy);
  if (answer.status === 404) await (await caches.open(TONIGHT)).delete(url.pathname);
  return answer;
}

// first is the network's answer, or the copy when there is none within the patience.
function first(answer, copy) {
  const late = new Promise(done => setTimeout(done, PATIENCE, copy));
  return Promise.race([answer.catch(() => copy), late]);
}

// fresh is the kept copy of a path, unless it is older than 12 hours by this device's clock.
async function fresh(path) {
  const kept = await caches.open(TONIGHT), copy = await kept.match(path);
  if (!copy) return undefined;
  if (Math.abs(Date.now() - Number(copy.headers.get("Kept-At"))) < LONGEST) return copy;
  await kept.delete(path);
  return undefined;
}

async function dropOld() {
  for (const request of await (await caches.open(TONIGHT)).keys()) await fresh(new URL(request.url).pathname);
}

// without is the page for when there is no network: it leads to the sheets that are kept.
async function without() {
  await dropOld();
  const paths = (await (await caches.open(TONIGHT)).keys()).map(r => new URL(r.url).pathname).filter(path => path.endsWith("/sheet"));
  const links = paths.map(path => `<p><a class="button" href="${path}">Open the class sheet</a></p>`).join("");
  const text = links ? "What you marked is kept on this device." : "No class sheet is kept on this device now.";
  return page("No network", `The page could not be fetched. ${text}`, links + `<p><a href="">Try again</a></p>`);
}

// stillIn answers a sign-out that did not reach the server.
const stillIn = () => page("Not signed out yet", "There is no network, so the server still counts you as signed in. The copies of the class sheet are gone from this " +
  "device; marks that wait are kept. Sign out again when the network is back.", `<p><a class="button" href="/">Try again</a></p>`);

async function page(title, text, rest) {
  const style = (await (await caches.open(SHELL)).keys()).find(r => r.url.includes("/css/"))?.url ?? "";
  return new Response(`<!DOCTYPE html><html lang="en-GB"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
    <title>${title} – Rungbook</title><link rel="stylesheet" href="${style}"><main class="page page-bare"><h1>${title}</h1>
    <p class="intro">${text}</p>${rest}</main></html>`, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
}
