"use strict";
// Shows what was computed for each step; nothing is computed here.
const steps = JSON.parse(document.getElementById("steps").textContent);
const box = document.getElementById("turning");
const turns = document.getElementById("turns");
const rows = document.querySelectorAll("#table > .scroll tbody tr");

function show() {
  const at = Number(turns.value);
  const step = steps[at];
  document.getElementById("turns-now").textContent = step.turns;
  turns.setAttribute("aria-valuetext", step.turns);
  for (const cell of box.querySelectorAll("[data-value]")) {
    cell.textContent = step.values[cell.dataset.value];
  }
  for (const cell of box.querySelectorAll("[data-load]")) {
    const [part, when] = cell.dataset.load.split("-");
    cell.textContent = step.loads[part][when];
  }
  for (const drawn of box.querySelectorAll("[data-step]")) {
    drawn.toggleAttribute("data-shown", Number(drawn.dataset.step) === at);
  }
  rows.forEach((row, index) => row.classList.toggle("now", index === step.row));
}

box.hidden = false;
turns.addEventListener("input", show);
show();
