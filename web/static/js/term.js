// Drag a rung of the term into another week: it sends the form #move-by-drag, as the buttons of the rung would. Rungs have
// data-rung, weeks data-week. The page works without this file.
let dragged = null; // { rung, week } of the rung in the air

const weekAt = target => target.closest?.("[data-week]");

// The week under the pointer, when the dragged rung can be dropped there.
function goal(e) {
  const cell = dragged && weekAt(e.target);
  return cell && cell.dataset.week !== dragged.week ? cell : null;
}

function outline(week) {
  for (const cell of document.querySelectorAll("[data-week]")) {
    cell.classList.toggle("pace-drop", cell.dataset.week === week);
  }
}

// The term is replaced after each change, so rungs become draggable when the pointer meets them.
document.addEventListener("pointerover", e => {
  const rung = e.target.closest?.("[data-rung]");
  if (rung) rung.draggable = true;
});

document.addEventListener("dragstart", e => {
  const rung = e.target.closest?.("[data-rung]");
  if (!rung) return;
  dragged = { rung: rung.dataset.rung, week: weekAt(rung)?.dataset.week };
  e.dataTransfer.setData("text/plain", rung.innerText);
  e.dataTransfer.effectAllowed = "move";
});

document.addEventListener("dragover", e => {
  const cell = goal(e);
  outline(cell?.dataset.week);
  if (cell) e.preventDefault();
});

document.addEventListener("drop", e => {
  const cell = goal(e), form = document.getElementById("move-by-drag");
  if (!cell || !form) return;
  e.preventDefault();
  form.elements.rung.value = dragged.rung;
  form.elements.week.value = cell.dataset.week;
  form.requestSubmit();
});

document.addEventListener("dragend", () => {
  dragged = null;
  outline();
});
