// Two things. A step's form goes the plain way while there is a connection, so that its faults come back beside its
// fields; without one it joins the outbox and waits. And a damage is put where the drawing is touched: the place goes
// into the form in inches, and a ring shows it. Without this script the station is chosen instead.
"use strict";

document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-offline]");
  if (!form) return;
  if (navigator.onLine) delete form.dataset.outbox;
  else form.dataset.outbox = form.dataset.offline;
}, true);

(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const views = document.querySelector("[data-views]");
  const form = document.querySelector("[data-marks]");
  if (!views || !form) return;
  views.dataset.ready = "yes";
  document.querySelectorAll("[data-touch]").forEach((line) => { line.hidden = false; });

  views.addEventListener("click", (event) => {
    const svg = event.target.closest("svg[data-scale]");
    if (!svg) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const scale = Number(svg.dataset.scale);
    set("view", svg.dataset.view);
    set("at-x", (at.x / scale).toFixed(1));
    set("at-up", (-at.y / scale).toFixed(1));
    form.elements.station.value = "";
    ring(svg, at);
    form.elements.words.focus({ preventScroll: true });
    form.scrollIntoView({ block: "nearest", behavior: "smooth" });
  });

  // Whoever chooses a station says where it is by that alone.
  form.elements.station.addEventListener("change", () => {
    if (!form.elements.station.value) return;
    for (const name of ["view", "at-x", "at-up"]) set(name, "");
    document.querySelectorAll(".marks__here").forEach((old) => old.remove());
  });

  function set(name, value) {
    form.elements[name].value = value;
  }

  function ring(svg, at) {
    document.querySelectorAll(".marks__here").forEach((old) => old.remove());
    const made = document.createElementNS(SVG, "circle");
    for (const [name, value] of Object.entries({ cx: at.x, cy: at.y, r: 10, class: "marks__here" })) made.setAttribute(name, value);
    svg.append(made);
  }
})();
