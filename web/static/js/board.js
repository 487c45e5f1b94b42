// Drag a child on the plan onto another group: it sends the form #move-by-drag, as the form "Move" of a cell would. Rows have
// data-child, cells data-group. The page works without this file.
let dragged = null; // { child, group } of the row in the air

const cellAt = target => target.closest?.("[data-group]");

// The cell under the pointer, when the dragged child can be dropped there.
function goal(e) {
  const cell = dragged && cellAt(e.target);
  return cell && cell.dataset.group !== dragged.group ? cell : null;
}

function outline(group) {
  for (const cell of document.querySelectorAll("[data-group]")) {
    cell.classList.toggle("board-drop", cell.dataset.group === group);
  }
}

// The plan is replaced after each change, so rows become draggable when the pointer meets them.
document.addEventListener("pointerover", e => {
  const row = e.target.closest?.("[data-child]");
  if (row) row.draggable = true;
});

document.addEventListener("dragstart", e => {
  const row = e.target.closest?.("[data-child]");
  if (!row) return;
  dragged = { child: row.dataset.child, group: cellAt(row).dataset.group };
  e.dataTransfer.setData("text/plain", row.innerText);
  e.dataTransfer.setDragImage(row, 0, 0);
  e.dataTransfer.effectAllowed = "move";
});

document.addEventListener("dragover", e => {
  const cell = goal(e);
  outline(cell?.dataset.group);
  if (cell) e.preventDefault();
});

document.addEventListener("drop", e => {
  const cell = goal(e), form = document.getElementById("move-by-drag");
  if (!cell || !form) return;
  e.preventDefault();
  form.elements.child.value = dragged.child;
  form.elements.to.value = cell.dataset.group;
  form.requestSubmit();
});

document.addEventListener("dragend", () => {
  dragged = null;
  outline();
});
