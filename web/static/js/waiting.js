// On any page but the sheet, while this device has entries that the server has not confirmed: sends them, and says so.
import { Outbox } from "./outbox.js";
import { Sender, stateInWords } from "./sheet-send.js";

const outbox = new Outbox(() => sender.tell());
const sender = new Sender(outbox, "", show);

async function show(s) {
  const told = await outbox.told();
  const words = [...new Set(told.map(t => t.words))];
  const lines = s.waiting.length ? [stateInWords(s) + ".", "They are sent once the person who tapped them is signed in here."] : [];
  box([...lines, ...words].join(" "), told.map(t => t.id));
  const form = document.querySelector("form[action='/sign-out']");
  if (form && s.waiting.length) form.dataset.confirm = stateInWords(s) + ". What waits stays on this device and is sent when you sign in on it again. Sign out all the same?";
  else if (form) delete form.dataset.confirm;
}

function box(text, read) {
  let p = document.getElementById("waiting");
  if (!text) return p?.remove();
  if (!p) {
    p = document.createElement("p");
    p.id = "waiting";
    p.className = "waiting";
    p.setAttribute("role", "status");
    document.getElementById("main").prepend(p);
  }
  if (p.dataset.text === text) return;
  p.dataset.text = text;
  p.replaceChildren(text + " ");
  if (!read.length) return;
  const b = document.createElement("button");
  b.type = "button";
  b.className = "button button-quiet button-small";
  b.textContent = "I have read it";
  b.addEventListener("click", () => outbox.forget(read));
  p.append(b);
}

sender.now();
