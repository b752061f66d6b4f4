// The drawing follows: pieces set down elsewhere on the deck, bands painted on it, loads lettered where they act.
"use strict";

(() => {
  const bench = globalThis.rubrailBench;
  const SVG = "http://www.w3.org/2000/svg";
  const MARKS = { over: "over", "not known": "unknown", depends: "depends", clear: "clear" };
  const LIMIT_AT = 0.8;
  const PRESS_PX = 44;
  const LANE_IN = 5;

  function element(tag, attributes = {}) {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    return made;
  }

  // The level trailer turned about its coupling as it rides behind this truck.
  function rider({ coupler_in: coupler, rise_in: rise, pitch_rad: pitch }) {
    const c = Math.cos(-pitch), s = Math.sin(-pitch);
    return (x, z) => [x * c - (z - coupler) * s, coupler + x * s + (z - coupler) * c + rise];
  }

  function deckHeight(deck, x) {
    if (!deck.tail_in || x <= deck.flat_rear_in) return deck.height_in;
    return deck.height_in - Math.min((x - deck.flat_rear_in) / deck.tail_in, 1) * deck.drop_in;
  }

  // How a rigid piece stands: height of the deck under its first contact, and its slope, rear up.
  function seat(deck, piece, front) {
    const first = front + piece.bears_in[0], last = front + piece.bears_in[1];
    const base = deckHeight(deck, first);
    const level = !deck.tail_in || last <= deck.flat_rear_in;
    if (level || (first < deck.flat_rear_in && front + piece.cg_in <= deck.flat_rear_in)) return { first, base, slope: 0 };
    return { first, base, slope: Math.atan2(deckHeight(deck, last) - base, Math.max(last - first, 1)) };
  }

  class Drawing {
    constructor(svg, data) {
      this.svg = svg;
      this.data = data;
      this.scale = Number(svg.dataset.scale);
      this.side = svg.dataset.view === "rig-side";
      this.ride = rider(data.ride);
      this.pieces = data.pieces.map((piece, item) => ({
        piece,
        figure: svg.querySelector(`[data-part=cargo][data-item="${item}"]`),
        others: [...svg.querySelectorAll(`[data-part=cg][data-item="${item}"]`)],
        letters: [...svg.querySelectorAll(`text[data-item="${item}"]`)],
        drawn: Number(svg.querySelector(`[data-part=cargo][data-item="${item}"]`)?.dataset.frontXIn),
      }));
      this.pointer = svg.querySelector("[data-part=load-cg]");
      for (const old of svg.querySelectorAll("[data-part=clear-band], [data-part=depends-band]")) old.remove();
      for (const old of svg.querySelectorAll(".rd-figure > line[stroke]")) {
        if (/rd-s-(clear|depends)/.test(old.getAttribute("class") ?? "")) old.remove();
      }
      this.bands = element("g", { class: "bench-bands" });
      const first = svg.querySelector("[data-part=cargo]");
      if (first) first.before(this.bands);
      // From above a wide machine hides the deck: a lane along the center line stays in sight.
      this.lanes = element("g", { class: "bench-bands" });
      if (first && !this.side) [...svg.querySelectorAll("[data-part=cargo]")].at(-1).after(this.lanes);
      this.grips = this.pieces.map(({ figure }, item) => this.grip(figure, item));
    }

    // What one takes hold of: as large as the piece, and never smaller than a finger.
    grip(figure, item) {
      if (!figure) return null;
      const made = element("rect", { class: "bench-grip", "data-grip": item, fill: "transparent", rx: 2 });
      this.svg.append(made);
      return made;
    }

    // Measured when laid out, not at every step: reading a size makes the browser lay the page out.
    measure() {
      this.seen = this.svg.checkVisibility();
      const shown = this.seen ? this.svg.getBoundingClientRect().width : 0;
      this.least = shown ? (PRESS_PX * this.svg.viewBox.baseVal.width) / shown : 0;
    }

    sizeGrips(fronts) {
      const { least } = this;
      if (!least) return;
      this.pieces.forEach(({ piece, figure }, item) => {
        if (!figure) return;
        const wide = Math.max(piece.length_in * this.scale, least);
        const high = Math.max((this.side ? piece.height_in : piece.width_in) * this.scale, least);
        const { base } = seat(this.data.deck, piece, fronts[item]);
        const [x, z] = this.ride(fronts[item] + piece.length_in / 2, base);
        const middle = (this.side ? x : fronts[item] + piece.length_in / 2) * this.scale;
        const bottom = this.side ? -z * this.scale : high / 2;
        const attributes = { x: middle - wide / 2, y: bottom - high, width: wide, height: high };
        for (const [name, value] of Object.entries(attributes)) this.grips[item].setAttribute(name, value.toFixed(2));
      });
    }

    place(fronts) {
      this.pieces.forEach((it, item) => {
        if (!it.figure) return;
        const by = this.transform(it, fronts[item]);
        for (const moved of [it.figure, ...it.others]) moved.setAttribute("transform", by.whole);
        for (const moved of it.letters) moved.setAttribute("transform", by.shift);
      });
      this.point(fronts);
      this.sizeGrips(fronts);
    }

    transform({ piece, drawn }, front) {
      if (!this.side) {
        const shift = `translate(${((front - drawn) * this.scale).toFixed(2)} 0)`;
        return { whole: shift, shift };
      }
      const was = seat(this.data.deck, piece, drawn), now = seat(this.data.deck, piece, front);
      const [x0, z0] = this.ride(was.first, was.base), [x1, z1] = this.ride(now.first, now.base);
      const dx = ((x1 - x0) * this.scale).toFixed(2), dy = ((z0 - z1) * this.scale).toFixed(2);
      const turn = (-(now.slope - was.slope) * 180) / Math.PI;
      const about = `${(x0 * this.scale).toFixed(2)} ${(-z0 * this.scale).toFixed(2)}`;
      const shift = `translate(${dx} ${dy})`;
      return { whole: turn ? `${shift} rotate(${turn.toFixed(4)} ${about})` : shift, shift };
    }

    // The pointer on the deck's edge where all the cargo together weighs down.
    point(fronts) {
      if (!this.pointer) return;
      let moment = 0, total = 0;
      this.pieces.forEach(({ piece }, item) => {
        moment += piece.weight_lb * (fronts[item] + piece.cg_in);
        total += piece.weight_lb;
      });
      const drawn = Number(this.pointer.dataset.xIn), now = moment / total;
      const [x0, z0] = this.ride(drawn, deckHeight(this.data.deck, drawn));
      const [x1, z1] = this.ride(now, deckHeight(this.data.deck, now));
      const by = `translate(${((x1 - x0) * this.scale).toFixed(2)} ${((z0 - z1) * this.scale).toFixed(2)})`;
      this.pointer.setAttribute("transform", by);
    }

    // Bands of the picked piece's center of gravity, each {low, high, name} in inches behind the coupling.
    paint(bands) {
      this.bands.replaceChildren();
      this.lanes.replaceChildren();
      const { deck } = this.data;
      for (const { low, high, name } of bands) {
        const a = Math.max(low, deck.front_in), b = Math.min(high, deck.rear_in);
        if (!(a < b)) continue;
        const shape = this.side ? this.edge(a, b) : this.floor(a, b, deck.width_in / 2);
        if (!this.side) {
          const lane = this.floor(a, b, LANE_IN);
          lane.setAttribute("class", `bench-band bench-band--${name} bench-lane`);
          this.lanes.append(lane);
        }
        shape.setAttribute("class", `bench-band bench-band--${name}`);
        shape.setAttribute("data-band", name);
        shape.setAttribute("data-from", low.toFixed(4));
        shape.setAttribute("data-to", high.toFixed(4));
        this.bands.append(shape);
      }
    }

    edge(a, b) {
      const { deck } = this.data, xs = [a, ...(deck.flat_rear_in > a && deck.flat_rear_in < b ? [deck.flat_rear_in] : []), b];
      const thick = Math.max(5 * this.scale, 5);
      const top = xs.map((x) => this.ride(x, deckHeight(deck, x))).map(([x, z]) => [x * this.scale, -z * this.scale]);
      const all = [...top, ...top.toReversed().map(([x, y]) => [x, y + thick])];
      return element("path", { d: `M${all.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join("L")}Z` });
    }

    floor(a, b, half_in) {
      const half = half_in * this.scale;
      return element("rect", {
        x: (a * this.scale).toFixed(2), y: (-half).toFixed(2),
        width: ((b - a) * this.scale).toFixed(2), height: (2 * half).toFixed(2),
      });
    }

    pick(item) {
      this.pieces.forEach(({ figure }, i) => figure?.classList.toggle("is-picked", i === item));
    }

    // One load where it acts: value, mark, bar and limit, which are lettered next to each other in this order.
    letter(place, { value, limit, code }) {
      const text = this.svg.querySelector(`text[data-load="${place}"]`);
      if (!text) return;
      const { metric } = this.data, word = bench.WORDS[code] ?? "";
      text.textContent = bench.amount(value, "lb", metric);
      const shape = text.previousElementSibling;
      if (shape?.classList.contains("rd-verdict") && word in MARKS) this.mark(shape, MARKS[word], word);
      const bar = text.nextElementSibling?.matches(`[data-bar="${place}"]`) ? text.nextElementSibling : null;
      if (!bar) return;
      this.fill(bar, value, limit, MARKS[word]);
      const below = bar.nextElementSibling;
      if (below && Number.isFinite(limit)) below.textContent = `of ${bench.amount(limit, "lb", metric)}`;
    }

    mark(shape, name, word) {
      if (shape.dataset.verdict === word) return;
      if (!shape.dataset.x) {
        const first = shape.firstElementChild, of = (n) => Number(first.getAttribute(n));
        const round = first.tagName === "circle";
        shape.dataset.x = round ? of("cx") : of("x") + of("width") / 2;
        shape.dataset.y = round ? of("cy") : of("y") + of("height") / 2;
      }
      const size = 9.2;
      const x = shape.dataset.x - size / 2, y = shape.dataset.y - size / 2;
      const use = element("use", { href: `#mark-${name}`, x, y, width: size, height: size, class: `mark--${name}` });
      shape.replaceChildren(use);
      shape.dataset.verdict = word;
    }

    fill(bar, value, limit, name) {
      const track = bar.querySelector("[data-part=bar]"), used = bar.querySelector("[data-part=used]");
      if (!used || !(limit > 0) || !Number.isFinite(value)) return;
      const wide = Number(track.getAttribute("width"));
      used.setAttribute("width", Math.min(Math.max((value / limit) * LIMIT_AT * wide, 0), wide).toFixed(2));
      used.setAttribute("class", `rd-f-${name ?? "steel"}`);
    }
  }

  Object.assign(bench, { Drawing, MARKS });
})();
