// One station at a time: by swipe, keys and buttons; the ticks are kept on this device. Without it: one long page.
"use strict";

(() => {
  const walk = document.querySelector("[data-walk]");
  if (!walk) return;
  const row = walk.querySelector("[data-row]");
  const stations = [...row.querySelectorAll("[data-station]")];
  const keys = stations.map((s) => s.dataset.station);
  const strip = walk.querySelector("[data-strip]");
  const pins = [...walk.querySelectorAll("[data-strip] [data-station]")];
  const [back, on] = ["back", "on"].map((name) => walk.querySelector(`[data-${name}]`));
  const here = walk.querySelector("[data-here]");
  let at = Math.max(keys.indexOf(location.hash.slice(1)), 0);

  walk.dataset.stepped = "yes";
  walk.querySelector("[data-go]").hidden = false;
  back.addEventListener("click", () => go(at - 1));
  on.addEventListener("click", () => go(at + 1));
  for (const pin of pins) pin.addEventListener("click", () => go(keys.indexOf(pin.dataset.station)));
  addEventListener("keydown", (event) => {
    if (event.target.closest("input, select, textarea") || event.altKey || event.ctrlKey || event.metaKey) return;
    const to = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: keys.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    go(to);
  });
  addEventListener("hashchange", () => {
    const wanted = keys.indexOf(location.hash.slice(1));
    if (wanted >= 0) go(wanted);
  });
  row.addEventListener("scroll", () => {
    const near = Math.round(row.scrollLeft / row.clientWidth);
    if (near !== at && near < keys.length) show(near);
  }, { passive: true });
  addEventListener("resize", () => {
    row.scrollLeft = at * row.clientWidth;
    fit();
  });
  for (const more of row.querySelectorAll("details")) more.addEventListener("toggle", fit);

  ticks();
  show(at);
  row.scrollLeft = at * row.clientWidth;

  function go(to) {
    const next = Math.min(Math.max(to, 0), keys.length - 1);
    row.scrollTo({ left: next * row.clientWidth, behavior: "instant" });
    show(next);
    stations[next].focus({ preventScroll: true });
    // A long station may have been read to its end: the next one is read from its head.
    // Held sideways there is no room for the drawing above it.
    const sideways = getComputedStyle(strip).position === "static";
    const head = (sideways ? row : walk).getBoundingClientRect().top;
    if (head < 0 || sideways) scrollBy({ top: head, behavior: "instant" });
  }

  function show(next) {
    at = next;
    for (const pin of pins) pin.toggleAttribute("data-here", pin.dataset.station === keys[at]);
    for (const [n, station] of stations.entries()) station.inert = n !== at;
    here.textContent = `${at + 1} of ${keys.length}`;
    back.disabled = at === 0;
    on.disabled = at === keys.length - 1;
    history.replaceState(history.state, "", `#${keys[at]}`);
    fit();
  }

  function fit() {
    row.style.height = `${stations[at].offsetHeight}px`;
  }

  function ticks() {
    const kept = `rubrail-${walk.dataset.kept}`;
    const told = walk.querySelector("[data-ticked]");
    const boxes = [...walk.querySelectorAll("[data-tick]")];
    let ticked;
    try {
      ticked = new Set(JSON.parse(localStorage.getItem(kept) || "[]"));
    } catch {
      // Storage is closed, or holds what is not ours: ticks then last as long as the page.
      ticked = new Set();
    }
    told.hidden = false;
    for (const box of boxes) {
      box.closest("[data-tickbox]").hidden = false;
      box.addEventListener("change", () => {
        if (box.checked) ticked.add(box.dataset.tick);
        else ticked.delete(box.dataset.tick);
        keep();
      });
    }
    walk.querySelector("[data-forget]").addEventListener("click", () => {
      ticked.clear();
      keep();
    });
    draw();

    function keep() {
      try {
        localStorage.setItem(kept, JSON.stringify([...ticked]));
      } catch {
        // As above.
      }
      draw();
    }

    function draw() {
      for (const box of boxes) box.checked = ticked.has(box.dataset.tick);
      for (const pin of pins) pin.toggleAttribute("data-checked", ticked.has(pin.dataset.station));
      const count = boxes.filter((box) => box.checked).length;
      told.querySelector("[data-count]").textContent = `Checked ${count} of ${boxes.length}.`;
    }
  }
})();
