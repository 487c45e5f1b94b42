// One group and one rotation at a time. The group is remembered for the lesson; the rotation follows the clock until another is chosen.
export function chooser(root, lesson) {
  const cells = [...root.querySelectorAll(".sheet-cell")], links = [...root.querySelectorAll(".choose-link")];
  const key = "rungbook-group-" + lesson;
  const shown = cells.find(c => !c.hidden);
  if (!shown) return { start() {} };
  let group = shown?.dataset.group, rotation = shown?.dataset.rotation, follows = true;

  // Where the group has no station in the rotation, what was chosen last decides: somebody who helps has a station here and there.
  function show(last = "rotation") {
    const fits = { group: c => c.dataset.group === group, rotation: c => c.dataset.rotation === rotation };
    const cell = cells.find(c => fits.group(c) && fits.rotation(c)) ?? cells.find(fits[last]) ?? cells[0];
    for (const c of cells) c.hidden = c !== cell;
    for (const link of links) link.ariaCurrent = String(link.dataset.group === cell.dataset.group || link.dataset.rotation === cell.dataset.rotation);
  }

  root.addEventListener("click", e => {
    const link = e.target.closest(".choose-link");
    if (!link) return;
    e.preventDefault();
    if (link.dataset.group) remember(group = link.dataset.group);
    else { rotation = link.dataset.rotation; follows = false; }
    show(link.dataset.group ? "group" : "rotation");
  });

  root.addEventListener("rotation", e => {
    if (follows || e.detail.moved) { rotation = String(e.detail.rotation); follows = true; }
    show();
  });

  function remember(value) {
    try {
      localStorage.setItem(key, value);
    } catch {
      // It is chosen again after a reload.
    }
  }

  return {
    start() {
      try {
        const kept = localStorage.getItem(key);
        if (cells.some(c => c.dataset.group === kept)) group = kept;
      } catch {
        // The first group is shown.
      }
      show();
    },
  };
}
