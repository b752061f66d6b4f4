// Pads to sign on: strokes by finger, pen or mouse, kept as whole numbers in the pad's own coordinates. A form that comes
// back is shown as it was signed.
"use strict";

(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const WIDE = 600;
  const HIGH = 180;
  const STEP = 3; // closer points say nothing more
  const MOST_STROKES = 80;
  const MOST_NUMBERS = 7_800;

  const draw = (pad) => {
    const path = document.createElementNS(SVG, "path");
    pad.append(path);
    return path;
  };

  const strokesIn = (text) => {
    try {
      const read = JSON.parse(text || "[]");
      return Array.isArray(read) && read.every((each) => Array.isArray(each) && each.length > 1) ? read : [];
    } catch {
      return [];
    }
  };

  const begin = (set) => {
    const pad = set.querySelector("[data-pad]");
    const field = set.querySelector("[data-strokes]");
    const base = draw(pad);
    base.setAttribute("d", `M8 140H${WIDE - 8}`);
    base.setAttribute("data-base", "");
    set.querySelector("[data-sheet]").hidden = false;

    let strokes = [];
    let stroke = null;
    let path = null;

    const place = (event) => {
      const box = pad.getBoundingClientRect();
      const at = (value, from, long, most) => Math.min(Math.max(Math.round(((value - from) / long) * most), 0), most);
      return [at(event.clientX, box.left, box.width, WIDE), at(event.clientY, box.top, box.height, HIGH)];
    };

    const show = () => {
      let d = `M${stroke[0]} ${stroke[1]}`;
      for (let i = 2; i < stroke.length; i += 2) d += `L${stroke[i]} ${stroke[i + 1]}`;
      path.setAttribute("d", stroke.length > 2 ? d : `${d}h0`);
    };

    // What the field holds that was not drawn here: the desk, the outbox or the browser put it there.
    const read = () => {
      const now = strokes.length ? JSON.stringify(strokes) : "";
      if (field.value === now) return;
      strokes = strokesIn(field.value);
      pad.replaceChildren(base);
      for (stroke of strokes) {
        path = draw(pad);
        show();
      }
      stroke = null;
    };
    read();
    field.addEventListener("again:put", read);
    window.addEventListener("pageshow", read);

    const keep = () => {
      field.value = strokes.length ? JSON.stringify(strokes) : "";
      field.dispatchEvent(new Event("input", { bubbles: true }));
    };

    pad.addEventListener("pointerdown", (event) => {
      if (event.button || strokes.length >= MOST_STROKES || strokes.flat().length > MOST_NUMBERS) return;
      event.preventDefault();
      pad.setPointerCapture(event.pointerId);
      stroke = place(event);
      strokes.push(stroke);
      path = draw(pad);
      show();
    });

    pad.addEventListener("pointermove", (event) => {
      if (!stroke || strokes.flat().length > MOST_NUMBERS) return;
      for (const each of event.getCoalescedEvents?.() ?? [event]) {
        const [x, y] = place(each);
        if (Math.hypot(x - stroke.at(-2), y - stroke.at(-1)) >= STEP) stroke.push(x, y);
      }
      show();
    });

    const end = () => {
      if (!stroke) return;
      stroke = null;
      keep();
    };
    pad.addEventListener("pointerup", end);
    pad.addEventListener("pointercancel", end);

    const again = () => {
      strokes = [];
      stroke = null;
      pad.replaceChildren(base);
      keep();
    };
    set.querySelector("[data-again]").addEventListener("click", again);
    set.closest("form")?.addEventListener("reset", again);
  };

  const start = (root) => root.querySelectorAll("[data-signature]:not([data-live])").forEach((set) => {
    set.dataset.live = "";
    begin(set);
  });
  start(document);
  document.addEventListener("htmx:afterSwap", (event) => start(event.target));
})();
