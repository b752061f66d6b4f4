// Reads a unit's envelope at any place along its deck: by pointer, finger or arrow keys.
// The page carries the engine's own coefficients, so every reading is the engine's: weight = 1 / (h + k x).
"use strict";

(() => {
  const KG = 0.45359237;
  const CM_IN = 1 / 2.54;

  for (const box of document.querySelectorAll("[data-envelope]")) start(box);

  function start(box) {
    const envelope = JSON.parse(box.dataset.envelope);
    const plots = box.querySelector("[data-plots]");
    const line = box.querySelector("[data-reading]");
    const part = (name) => line.querySelector(`[data-${name}]`);
    const { front, rear, metric } = envelope;
    const step = metric ? CM_IN : 1;
    const leap = metric ? 50 * CM_IN : 12;
    let place = envelope.best;

    plots.setAttribute("role", "slider");
    plots.tabIndex = 0;
    plots.setAttribute("aria-label", "Where the load balances along the deck");
    plots.setAttribute("aria-orientation", "horizontal");
    plots.setAttribute("aria-valuemin", "0");
    plots.setAttribute("aria-valuemax", String(shown(rear - front)));
    box.querySelector("[data-hint]").hidden = false;

    plots.addEventListener("pointermove", (event) => {
      if (event.pointerType === "mouse" || event.buttons) follow(event);
    });
    plots.addEventListener("pointerdown", follow);

    plots.addEventListener("keydown", (event) => {
      const to = {
        ArrowRight: place + step,
        ArrowUp: place + step,
        ArrowLeft: place - step,
        ArrowDown: place - step,
        PageUp: place + leap,
        PageDown: place - leap,
        Home: front,
        End: rear,
      }[event.key];
      if (to === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      read(onTape(to));
    });

    read(place);

    function follow(event) {
      const field = visible().querySelector("[data-part=hover]").getBoundingClientRect();
      read(onTape(front + ((event.clientX - field.left) / field.width) * (rear - front)));
    }

    // What is said of a place is true of the place that is said: whole inches or centimeters from the deck's front.
    function onTape(x) {
      const marked = front + Math.round((x - front) / step) * step;
      return Math.min(Math.max(marked, front), rear);
    }

    function read(x) {
      place = x;
      const stretch = envelope.stretches.find((s) => s.from <= x && x <= s.to);
      const weight = carried(stretch, x);
      part("most").textContent = Number.isFinite(weight) ? `${load(weight)} at most` : "No limit";
      part("place").textContent = `balanced ${long(x - front)} behind the front of the deck, ${long(x)} behind the coupling`;
      part("governs").textContent = stretch.stops;
      plots.setAttribute("aria-valuenow", String(shown(x - front)));
      plots.setAttribute("aria-valuetext", line.textContent);
      box.dataset.xIn = String(x);
      box.dataset.weightLb = String(weight);
      for (const svg of plots.querySelectorAll("svg")) point(svg, x, weight);
    }

    function point(svg, x, weight) {
      const field = svg.querySelector("[data-part=hover]");
      const cursor = svg.querySelector("[data-part=cursor]");
      const at = (name) => Number(field.getAttribute(name));
      const across = at("x") + ((x - front) / (rear - front)) * at("width");
      cursor.setAttribute("transform", `translate(${across} 0)`);
      cursor.querySelector("circle").setAttribute("cy", -Math.min(weight * Number(svg.dataset.perLb), at("height")));
      cursor.removeAttribute("visibility");
    }

    function visible() {
      return [...plots.querySelectorAll("svg")].find((svg) => svg.checkVisibility()) || plots.querySelector("svg");
    }

    function shown(inches) {
      return metric ? Math.round(inches * 2.54) : Math.round(inches);
    }

    function load(lb) {
      return metric ? `${digits(lb * KG, 0)} kg` : `${digits(lb, 0)} lb`;
    }

    // As the sentences of the server write lengths.
    function long(inches) {
      const sign = inches < 0 ? "−" : "";
      const size = Math.abs(inches);
      if (metric) {
        const mm = size * 25.4;
        return mm >= 1000 ? `${sign}${digits(mm / 1000, 3)} m` : `${sign}${digits(mm, 0)} mm`;
      }
      if (size < 24) return `${sign}${digits(size, 1)} in`;
      const whole = even(size);
      const feet = Math.floor(whole / 12);
      return `${sign}${feet} ft${whole % 12 ? ` ${whole % 12} in` : ""}`;
    }
  }

  function carried(stretch, x) {
    if (stretch.h === null) return 0;
    const inverse = stretch.h + stretch.k * x;
    return inverse > 0 ? 1 / inverse : Infinity;
  }

  // Halves go to the even neighbor, as the server rounds them.
  function even(value) {
    const near = Math.round(value);
    return Math.abs(value % 1) === 0.5 ? 2 * Math.round(value / 2) : near;
  }

  function digits(value, places) {
    const size = 10 ** places;
    return (even(value * size) / size).toLocaleString("en-US", { maximumFractionDigits: places });
  }
})();
