// Drags an end of a tie-down to another anchor or tie point. All it does is choose in the field of that end; the
// engine judges. Without it, and with the keyboard, the fields do the same.
"use strict";

(() => {
  const REACH = 40;
  const SLACK = 5;
  const HOLD = 15;
  const SVG = "http://www.w3.org/2000/svg";

  document.addEventListener("htmx:configRequest", (event) => {
    // Only the drawing that shows is waited for; the other comes with the rest.
    if (event.target.closest(".tie")) event.detail.parameters.size = narrow() ? "narrow" : "wide";
  });
  document.addEventListener("htmx:afterSwap", ready);
  for (const kind of ["focusin", "pointerover"]) {
    document.addEventListener(kind, (event) => {
      const at = event.target.closest?.("[data-row], [data-part=tie]");
      if (at && !document.querySelector(".tie__pulling")) light(at.dataset.row || at.dataset.tie);
    });
  }
  ready();

  function narrow() {
    return window.matchMedia("(max-width: 40rem)").matches;
  }

  function ready() {
    for (const svg of document.querySelectorAll(".tie__views [data-size] svg:not([data-ready])")) {
      svg.dataset.ready = "yes";
      for (const end of svg.querySelectorAll("circle[data-end]")) take(svg, end);
    }
  }

  function circle(x, y, r, look) {
    const made = document.createElementNS(SVG, "circle");
    for (const [name, value] of Object.entries({ cx: x, cy: y, r, class: look })) made.setAttribute(name, value);
    return made;
  }

  function take(svg, end) {
    const hold = circle(end.getAttribute("cx"), end.getAttribute("cy"), HOLD, "tie__hold");
    end.after(hold);
    // A finger on an end pulls it; anywhere else it scrolls the page.
    hold.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false });
    hold.addEventListener("pointerdown", (event) => {
      if (!event.isPrimary || event.button !== 0) return;
      event.preventDefault();
      pull(svg, nearest(svg, event) || end, hold, event);
    });
  }

  // Where several ends are under one finger: the nearest; of two on one ring the one that stands out, else the upper.
  function nearest(svg, event) {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const far = (e) => Math.hypot(Number(e.getAttribute("cx")) - at.x, Number(e.getAttribute("cy")) - at.y);
    const lit = (e) => (e.closest(".tie--on") ? 0 : 1);
    const ends = [...svg.querySelectorAll("circle[data-end]")].reverse().filter((e) => far(e) <= HOLD);
    return ends.sort((a, b) => Math.round(far(a) - far(b)) || lit(a) - lit(b))[0];
  }

  function field(end) {
    const row = document.querySelector(`[data-row="${CSS.escape(end.dataset.tie)}"]`);
    return row && row.querySelector(`select[data-end="${end.dataset.end}"]`);
  }

  // Places this end may go, in the svg's own measure.
  function places(svg, end) {
    const piece = end.parentNode.dataset.piece;
    const wanted = end.dataset.end === "point" ? `[data-part=tie-point][data-piece="${piece}"]` : "[data-part=tie-anchor]";
    return [...svg.querySelectorAll(wanted)].map((at) => {
      const mark = at.querySelector("circle");
      return { key: at.dataset.key, x: Number(mark.getAttribute("cx")), y: Number(mark.getAttribute("cy")) };
    });
  }

  function pull(svg, end, hold, start) {
    const choice = field(end);
    if (!choice) return;
    const known = new Set([...choice.options].map((o) => o.value));
    const to = places(svg, end).filter((p) => known.has(p.key));
    const others = [...end.parentNode.querySelectorAll("circle[data-end]")].filter((e) => e !== end);
    const line = document.createElementNS(SVG, "line");
    line.setAttribute("class", "tie__pull");
    line.setAttribute("x1", others[0] ? others[0].getAttribute("cx") : end.getAttribute("cx"));
    line.setAttribute("y1", others[0] ? others[0].getAttribute("cy") : end.getAttribute("cy"));
    const here = circle(0, 0, 7, "tie__here");
    let moved = false;
    let found = null;
    light(end.dataset.tie);
    hold.setPointerCapture(start.pointerId);
    hold.addEventListener("pointermove", move);
    hold.addEventListener("pointerup", drop);
    hold.addEventListener("pointercancel", end_);
    document.addEventListener("keydown", escape);

    function move(event) {
      if (!moved && Math.hypot(event.clientX - start.clientX, event.clientY - start.clientY) < SLACK) return;
      const matrix = svg.getScreenCTM();
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
      if (!moved) {
        moved = true;
        svg.append(line, here);
        svg.classList.add("tie__pulling");
      }
      const way = (p) => Math.hypot(p.x - at.x, p.y - at.y) * matrix.a;
      const next = to.reduce((a, b) => (a && way(a) <= way(b) ? a : b), null);
      found = next && way(next) <= REACH ? next : null;
      const tip = found || at;
      line.setAttribute("x2", tip.x);
      line.setAttribute("y2", tip.y);
      here.setAttribute("cx", tip.x);
      here.setAttribute("cy", tip.y);
      here.setAttribute("visibility", found ? "visible" : "hidden");
    }

    function drop() {
      end_();
      if (!moved) choice.focus({ preventScroll: true });
      else if (found && found.key !== choice.value) {
        choice.value = found.key;
        choice.dispatchEvent(new Event("change", { bubbles: true }));
      }
    }

    function escape(event) {
      if (event.key !== "Escape") return;
      moved = true;
      found = null;
      end_();
    }

    function end_() {
      line.remove();
      here.remove();
      svg.classList.remove("tie__pulling");
      hold.removeEventListener("pointermove", move);
      hold.removeEventListener("pointerup", drop);
      hold.removeEventListener("pointercancel", end_);
      document.removeEventListener("keydown", escape);
    }
  }

  // One tie-down stands out, in the drawing and in the table.
  function light(label) {
    for (const it of document.querySelectorAll(".tie [data-row], .tie [data-tie]")) {
      const labels = (it.dataset.row || it.dataset.tie).split(" ");
      it.classList.toggle("tie--on", labels.includes(label));
    }
  }
})();
