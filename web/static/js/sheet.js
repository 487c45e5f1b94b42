// The class sheet in the hall: one tap is one item, shown at once, saved on this device, sent when there is a network. Without this
// file the page's forms do the same, one request a tap.
import { Outbox, newId } from "./outbox.js";
import { Sender, stateInWords } from "./sheet-send.js";
import { canKeep, drop, keep, keeps, keepState } from "./sheet-offline.js";
import { Clock } from "./sheet-clock.js";
import { Marks } from "./sheet-marks.js";
import { chooser } from "./sheet-choose.js";
import { ServerTime } from "./clock.js";

const POLL = 1500, GUARD = 400;
const root = document.getElementById("sheet"), byId = id => document.getElementById(id);
const { lesson, you, url } = root.dataset;
const time = new ServerTime();
const outbox = new Outbox(() => refresh());
const marks = new Marks(root, you);
const clock = new Clock(byId("clock"), time, say);
const choose = chooser(root, lesson);
const sender = new Sender(outbox, you, show);
const lastTap = new Map(); // child -> when, so that a wet finger counts once
let state = null, tag = "", planFirst = "", polling = false;

function say(text) {
  byId("live").textContent = text;
}

// --- Taps ---------------------------------------------------------------------------------------------------------------

// The page's own forms are caught before anything else sees them.
root.addEventListener("submit", e => {
  const form = e.target, kind = form.elements.kind?.value;
  if (form.id === "clock-form") clock.press(e.submitter.value);
  else if (!kind) return;
  else if (!e.submitter?.matches(".mark-button") || mayMark(form)) tap(form, e.submitter);
  e.preventDefault();
  e.stopImmediatePropagation();
}, true);

function mayMark(form) {
  const child = form.elements.child.value, now = performance.now();
  if (now - (lastTap.get(child) ?? -GUARD) < GUARD) return false;
  lastTap.set(child, now);
  return true;
}

function tap(form, button) {
  const data = new FormData(form, button), get = name => data.get(name) ?? "";
  const item = { id: newId(), lesson, kind: get("kind"), client_at: new Date().toISOString() };
  switch (item.kind) {
    case "mark":
      Object.assign(item, { child: get("child"), rung: get("rung"), side: get("side"), outcome: get("outcome"), faults: data.getAll("fault") });
      if (marks.correctable(form)) item.faults = []; // those ticked belong to the turn before
      break;
    case "strike":
      Object.assign(item, { child: get("child"), rung: get("rung"), replaces: get("replaces") });
      break;
    case "attendance":
      Object.assign(item, { [data.has("staff") ? "staff" : "child"]: get("staff") || get("child"), present: get("present") === "yes" });
      break;
    case "note":
      item.text = get("text").trim();
      if (data.has("child")) item.child = get("child");
      if (!item.text) return;
      break;
  }
  save(item).then(stored => {
    if (item.kind !== "note" || !stored) return;
    form.reset();
    form.closest("details").open = false;
  });
}

// A fault that is ticked soon after a mark corrects that mark: a new item that stands for it.
root.addEventListener("change", e => {
  const old = e.target.name === "fault" && marks.correctable(e.target.form);
  if (!old) return;
  const { child, rung, side, outcome } = old.item;
  save({ id: newId(), lesson, kind: "mark", client_at: new Date().toISOString(), child, rung, side, outcome,
    faults: new FormData(e.target.form).getAll("fault"), replaces: old.item.id });
});

// save shows an item, and stores it; it says so only when it is on the disk.
async function save(item) {
  marks.add(item);
  draw();
  let stored = true;
  try {
    await outbox.put(you, item);
    marks.stage(item.id, "waiting");
    say(marks.inWords(item) + " Saved.");
  } catch {
    stored = false;
    marks.stage(item.id, "loose");
    say(marks.inWords(item) + " Not saved on this device.");
  }
  draw();
  navigator.storage?.persist?.();
  sender.now();
  return stored;
}

// --- What the page shows ----------------------------------------------------------------------------------------------------

async function refresh() {
  marks.waiting((await outbox.waiting()).filter(e => e.by === you && e.item.lesson === lesson).map(e => e.item), performance.now());
  draw();
  sender.tell();
  tellWords();
}

function draw() {
  marks.draw(state);
  byId("here-summary").textContent = marks.hereInWords();
  const again = byId("plan-again");
  if (again && state) again.hidden = !marks.misfits(state);
}

function show(s) {
  const net = byId("net");
  net.dataset.state = s.loose ? "loose" : s.state;
  set(byId("net-words"), stateInWords(s));
  byId("net-sign-in").hidden = s.state !== "signed-out";
  notice("others", s.others ? `${s.others === 1 ? "1 entry" : s.others + " entries"} of somebody else who used this device ${s.others === 1 ? "waits" : "wait"} here too, and ` +
    "will be sent when that person signs in on it again." : "");
  warnAtSignOut(s.waiting.length);
  marks.loose(s.loose);
}

function warnAtSignOut(n) {
  const form = document.querySelector("form[action='/sign-out']");
  if (!form) return;
  if (n) form.dataset.confirm = `${n === 1 ? "1 entry is" : n + " entries are"} not sent yet. They stay on this device and are sent when you sign in on it again. Sign out all the same?`;
  else delete form.dataset.confirm;
}

// Words of the server about single items stay until they are ticked off.
async function tellWords() {
  const told = await outbox.told(you);
  const lines = [...new Set(told.map(t => t.words))];
  notice("told", lines.length ? `${told.length === 1 ? "1 entry does" : told.length + " entries do"} not count as sent: ${lines.join(" ")}` : "", "I have read it", () => outbox.forget(told.map(t => t.id)));
}

// notice shows a sentence above the groups, or takes it away.
function notice(name, text, label, act) {
  let box = root.querySelector(`[data-notice="${name}"]`);
  if (!text) return box?.remove();
  if (!box) {
    box = byId("notice").content.firstElementChild.cloneNode(true);
    box.dataset.notice = name;
    byId("notices").append(box);
  }
  const p = box.querySelector("p");
  if (p.dataset.text === text) return;
  p.dataset.text = text;
  p.replaceChildren(text + " ");
  if (label) p.append(act instanceof Function ? button(label, act) : link(label, act));
  say(text);
}

function button(label, act) {
  const b = document.createElement("button");
  b.type = "button";
  b.className = "button button-quiet button-small";
  b.textContent = label;
  b.addEventListener("click", act);
  return b;
}

function link(label, to) {
  const a = document.createElement("a");
  a.href = to;
  a.textContent = label;
  return a;
}

function set(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

// --- What other devices did -----------------------------------------------------------------------------------------------

// poll asks for the state; 304 means that nothing changed. A copy that the service worker kept says nothing about now.
async function poll() {
  if (polling) return;
  polling = true;
  try {
    const asked = performance.now();
    const answer = await fetch(url + ".json", { cache: "no-store", headers: tag ? { "If-None-Match": tag } : {}, signal: AbortSignal.timeout(10000) });
    if (answer.headers.has("Kept-At")) old(await answer.text());
    else if (answer.status === 200 || answer.status === 304) await heard(answer, asked);
    else if (answer.status === 401 || answer.status === 404) closed(answer.status);
  } catch {
    sender.reached(false); // what is shown stands, and the next poll asks again
  } finally {
    polling = false;
  }
}

function old(copy) {
  sender.reached(false);
  if (!state) take(copy);
}

async function heard(answer, asked) {
  sender.reached(true);
  time.heard(Number(answer.headers.get("Server-Time")), performance.now() - asked);
  if (answer.status === 200) {
    const body = await answer.text();
    tag = answer.headers.get("ETag") ?? "";
    take(body);
    keepState(url + ".json", body).catch(() => {});
  }
  notice("closed", "");
  marks.confirmed(asked);
  clock.online();
  draw();
}

function take(body) {
  state = JSON.parse(body);
  clock.set(state);
  draw();
  const plan = JSON.stringify(state.cells.map(c => [c.rotation, c.group, c.ladder, c.lead, c.spots, c.entries.map(e => [e.child, e.activity])]));
  planFirst ||= plan;
  if (plan !== planFirst) notice("plan", "The plan has changed.", "Show the new one", url);
}

function closed(status) {
  if (status === 404) {
    drop();
    notice("closed", "This class sheet is not open to you any more. What waits here is kept, and sent when the server takes it.");
  } else {
    notice("closed", "You are signed out. Marks are kept on this device.", "Sign in to send them", root.dataset.signIn);
  }
}

function live() {
  if (!document.hidden) poll();
}

async function begin() {
  time.recall();
  if (!canKeep()) notice("keep", "This browser cannot open the sheet again without a network: keep this page open until everything is sent.");
  choose.start();
  await refresh();
  await poll();
  sender.now();
  setInterval(live, POLL);
  document.addEventListener("visibilitychange", live);
  if (!canKeep()) return;
  await keep([url, url + ".json", url.replace(/sheet$/, "stop")]).catch(() => {});
  if (!await keeps(url)) notice("keep", "This device could not store the sheet for use without a network: keep this page open until everything is sent.");
}

begin();
