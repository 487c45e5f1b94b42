// The marks and who is here, as the page shows them: what the server has, what waits on this device, and what was tapped this moment.
const RECENT = 120000; // ms in which a ticked fault still belongs to the mark just made
const WORDS = { missed: "Missed", supported: "Supported", clean: "Clean" };

export class Marks {
  #root; #rows;
  #local = new Map(); // id -> { item, stage, at, left }: stage is "saving", "waiting", "loose" or "sent"; left is when it left the outbox
  #children = new Map(); // id -> { present }

  constructor(root) {
    this.#root = root;
    this.#rows = [...root.querySelectorAll(".sheet-row[data-rung]:not([data-rung=''])")];
  }

  add(item) { this.#local.set(item.id, { item, stage: "saving", at: performance.now(), left: Infinity }); }

  stage(id, stage) {
    const known = this.#local.get(id);
    if (known && known.stage === "saving") known.stage = stage;
  }

  // waiting takes what the outbox holds now; what it holds no more has been answered.
  waiting(items, now) {
    const ids = new Set(items.map(i => i.id));
    for (const [id, known] of this.#local) {
      if (known.stage !== "saving" && known.left === Infinity && !ids.has(id)) Object.assign(known, { stage: "sent", left: now });
    }
    for (const item of items) if (!this.#local.has(item.id)) this.#local.set(item.id, { item, stage: "waiting", at: -Infinity, left: Infinity });
  }

  // confirmed forgets what had been answered before the state was asked for: the state has it.
  confirmed(asked) {
    for (const [id, known] of this.#local) if (known.left < asked) this.#local.delete(id);
  }

  loose(n) {
    if (!n) for (const known of this.#local.values()) if (known.stage === "loose") known.stage = "waiting";
  }

  // correctable is the mark of a row's form that was made here a moment ago.
  correctable(form) {
    const made = [...this.#local.values()].filter(k => k.item.kind === "mark" && k.item.child === form.elements.child.value &&
      k.item.rung === form.elements.rung.value && performance.now() - k.at < RECENT);
    const last = made.at(-1);
    const struck = [...this.#local.values()].some(k => k.item.kind === "strike" && k.item.replaces === last?.item.id);
    return struck ? undefined : last;
  }

  inWords(item) {
    const name = this.#root.querySelector(`[data-child="${item.child}"]`)?.dataset.name ?? this.#root.querySelector(`[data-here="${item.child ?? item.staff}"]`)?.dataset.name ?? "";
    switch (item.kind) {
      case "mark": return `${item.replaces ? "Faults" : WORDS[item.outcome]} for ${name}.`;
      case "strike": return `Undone for ${name}.`;
      case "attendance": return `${name} is ${item.present ? "here" : "away"}.`;
    }
    return "Note kept.";
  }

  draw(state) {
    const list = this.#inForce(state);
    for (const row of this.#rows) this.#drawRow(row, list.filter(m => m.child === row.dataset.child && m.rung === row.dataset.rung));
    this.#drawHere(state);
  }

  #inForce(state) {
    const list = (state?.marks ?? []).map(m => ({ ...m, stage: "sent" }));
    const has = id => list.some(m => m.id === id), without = id => list.splice(0, list.length, ...list.filter(m => m.id !== id));
    for (const { item, stage } of this.#local.values()) {
      if (item.replaces && has(item.replaces)) without(item.replaces);
      if (item.kind === "mark" && !has(item.id)) list.push({ ...item, mine: true, stage });
    }
    return list;
  }

  #drawRow(row, list) {
    const seen = row.querySelector(".seen"), shown = list.slice(-6);
    const sign = JSON.stringify(shown.map(m => [m.id, m.stage])) + list.length;
    if (seen.dataset.sign === sign) return;
    seen.dataset.sign = sign;
    seen.replaceChildren(...shown.map(m => this.#mark(m)));
    for (const outcome of Object.keys(WORDS)) {
      const button = row.querySelector(".mark-" + outcome), n = list.filter(m => m.outcome === outcome).length;
      if (n) button.dataset.count = n;
      else delete button.dataset.count;
    }
    this.#drawUndo(row, list.filter(m => m.mine).at(-1));
    this.#drawFaults(row, list);
  }

  #mark(m) {
    const li = document.createElement("li"), words = document.createElement("span");
    li.className = "seen-mark";
    Object.assign(li.dataset, { outcome: m.outcome, stage: m.stage, id: m.id });
    words.className = "sr-only";
    const stage = { saving: ", being saved", waiting: ", waiting to send", loose: ", not saved on this device", sent: "" }[m.stage];
    words.textContent = WORDS[m.outcome] + (m.side === "none" ? "" : ", " + m.side) + (m.faults.length ? `, ${m.faults.length === 1 ? "1 fault" : m.faults.length + " faults"}` : "") +
      (m.mine ? "" : ", by " + m.by) + stage;
    li.append(document.getElementById("seen-" + m.outcome).content.cloneNode(true), words);
    const short = (m.side === "left" ? "L" : m.side === "right" ? "R" : "") + (m.faults.length ? "·" + m.faults.length : "") + (m.stage === "loose" ? " not saved" : "");
    if (short) {
      const side = document.createElement("span");
      side.ariaHidden = "true";
      side.textContent = short;
      li.append(side);
    }
    return li;
  }

  #drawUndo(row, last) {
    const form = row.querySelector(".undo-form");
    if (!last && form.contains(document.activeElement)) row.querySelector(".mark-clean").focus();
    form.hidden = !last;
    if (!last) return;
    form.elements.replaces.value = last.id;
    form.querySelector(".undo-words").textContent = "Undo: " + WORDS[last.outcome].toLowerCase() + (last.side === "none" ? "" : " " + last.side);
  }

  // The ticked faults are those of the mark just made, or, a while after it, of the next turn.
  #drawFaults(row, list) {
    const form = row.querySelector(".mark-form"), words = form.querySelector(".faults-for");
    if (!words) return;
    const last = this.correctable(form), now = last && list.find(m => m.id === last.item.id);
    words.textContent = now ? `In the turn just marked: ${WORDS[now.outcome].toLowerCase()}` : "In the next turn";
    if (row.dataset.faultsOf === (now?.id ?? "")) return;
    row.dataset.faultsOf = now?.id ?? "";
    for (const box of form.querySelectorAll("[name=fault]")) box.checked = now?.faults.includes(box.value) ?? false;
  }

  #drawHere(state) {
    this.#children.clear();
    for (const p of [...(state?.children ?? []), ...(state?.staff ?? [])]) this.#children.set(p.id, p.present);
    for (const { item } of this.#local.values()) if (item.kind === "attendance") this.#children.set(item.child ?? item.staff, item.present);
    for (const button of this.#root.querySelectorAll("[data-here]")) {
      const { here, name } = button.dataset;
      if (!this.#children.has(here)) continue;
      const present = this.#children.get(here), word = present === null ? "not noted" : present ? "here" : "away";
      button.value = present === false ? "yes" : present ? "no" : "yes";
      button.dataset.present = word;
      button.querySelector(".here-word").textContent = word;
      button.ariaLabel = `${name}: ${word}. Note ${button.value === "yes" ? "here" : "away"}`;
    }
    for (const row of this.#root.querySelectorAll(".sheet-row")) row.querySelector(".sheet-away").hidden = this.#children.get(row.dataset.child) !== false;
  }

  hereInWords() {
    const buttons = [...this.#root.querySelectorAll("[data-of=child]")];
    const away = buttons.filter(b => b.dataset.present === "away").length, noted = buttons.filter(b => b.dataset.present !== "not noted" && b.dataset.present).length;
    if (!noted) return `Who is here: nobody noted yet`;
    return `Who is here: ${buttons.length - away} of ${buttons.length}`;
  }

  // misfits reports whether the plan has a child that is away, or lacks one that is here.
  misfits(state) {
    return state.cells.length > 0 && state.children.some(c => c.group > 0 ? this.#children.get(c.id) === false : this.#children.get(c.id) === true);
  }
}
