// Moves a machine along its way: every pose and number was reckoned by the engine, step by step; here they are shown.
"use strict";

(() => {
  const KG = 0.45359237;
  const MM = 25.4;

  document.addEventListener("htmx:afterSwap", all);
  all();

  function all() {
    for (const box of document.querySelectorAll("[data-climb]:not([data-ready])")) start(box);
  }

  function start(box) {
    box.dataset.ready = "yes";
    const told = JSON.parse(box.dataset.climb);
    const views = [...box.querySelectorAll("[data-size] svg")].map(read);
    const plots = [...box.querySelectorAll("[data-plot] svg")];
    const scrub = box.querySelector("[data-scrub]");
    const now = box.querySelector("[data-now]");
    scrub.max = String(told.s.length - 1);
    scrub.closest("[hidden]").hidden = false;
    now.hidden = false;
    scrub.addEventListener("input", () => show(Number(scrub.value)));
    for (const button of box.querySelectorAll("[data-go]")) {
      button.addEventListener("click", () => {
        scrub.value = button.dataset.go;
        show(Number(button.dataset.go));
      });
    }
    show(Number(box.dataset.first));

    function show(step) {
      for (const view of views) pose(view, step);
      for (const plot of plots) cursor(plot, step);
      const set = (name, text) => (now.querySelector(`[data-${name}]`).textContent = text);
      set("s", long(told.s[step]));
      set("pitch", told.pitch[step] === null ? "not known" : `${told.pitch[step].toFixed(1)}°`);
      for (const name of ["belly", "nose", "tail"]) set(name, long(told[name][step]));
      for (const name of ["coupler", "rear", "ramp", "axles"]) set(name, load(told[name][step]));
      box.dataset.step = String(step);
      scrub.setAttribute("aria-valuetext", `${long(told.s[step])} up, nose ${told.pitch[step]}° up`);
    }

    function long(inches) {
      if (inches === null || inches === undefined) return "not known";
      return told.metric ? `${Math.round(inches * MM).toLocaleString("en-US")} mm` : `${inches.toFixed(1)} in`;
    }

    function load(pounds) {
      if (pounds === null || pounds === undefined) return "not known";
      const shown = Math.round(told.metric ? pounds * KG : pounds);
      return `${shown.toLocaleString("en-US").replace("-", "−")} ${told.metric ? "kg" : "lb"}`;
    }
  }

  function read(svg) {
    const row = (name) => (svg.dataset[name] || "").split(" ").map(Number);
    const group = svg.querySelector("[data-part=climber]");
    return {
      svg,
      group,
      scale: Number(svg.dataset.scale),
      trailing: Number(group.parentNode.dataset.trailingIn),
      x: row("x"),
      z: row("z"),
      pitch: row("pitch"),
      levelFrom: svg.dataset.levelFrom === undefined ? null : Number(svg.dataset.levelFrom),
    };
  }

  function pose(view, step) {
    const px = (v) => v * view.scale;
    const turn = (view.pitch[step] * 180) / Math.PI;
    const back = px(view.trailing);
    view.group.setAttribute(
      "transform",
      `translate(${px(view.x[step])} ${-px(view.z[step])}) rotate(${turn}) translate(${-back} 0)`,
    );
    if (view.levelFrom !== null) {
      const level = step >= view.levelFrom;
      for (const [state, on] of [["tilted", !level], ["level", level]]) {
        const deck = view.svg.querySelector(`[data-deck=${state}]`);
        if (deck) deck.setAttribute("visibility", on ? "visible" : "hidden");
      }
    }
  }

  function cursor(plot, step) {
    const line = plot.querySelector("[data-part=cursor]");
    const s = Number(plot.dataset.s.split(" ")[step]);
    const x = Number(plot.dataset.left) + s * Number(plot.dataset.perIn);
    line.setAttribute("x1", x);
    line.setAttribute("x2", x);
    line.setAttribute("visibility", "visible");
  }
})();
