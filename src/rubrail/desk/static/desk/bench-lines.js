// The page's limits and loads follow: numbers, bars, marks and what governs.
"use strict";

(() => {
  const bench = globalThis.rubrailBench;
  const BAR_END = 125;

  function setMark(svg, word) {
    const name = bench.MARKS[word];
    if (!svg || !name || svg.dataset.word === word) return;
    svg.dataset.word = word;
    svg.setAttribute("class", `mark mark--${name}`);
    svg.firstElementChild.setAttribute("href", `#mark-${name}`);
    if (svg.hasAttribute("aria-label")) svg.setAttribute("aria-label", word);
  }

  function setVerdict(span, word) {
    const name = bench.MARKS[word];
    if (!span || !name) return;
    span.className = `verdict verdict--${name}`;
    span.querySelector("use").setAttribute("href", `#mark-${name}`);
    span.lastChild.textContent = word;
  }

  // A number with its unit set apart, as the page writes it.
  function setNumber(cell, text) {
    if (cell.told === text) return;
    cell.told = text;
    if (!text) {
      cell.replaceChildren();
      return;
    }
    const num = cell.querySelector(".num") ?? cell.appendChild(Object.assign(document.createElement("span"), { className: "num" }));
    const at = text.indexOf(" "), unit = at < 0 ? "" : text.slice(at + 1);
    if (!unit || /\d/.test(unit)) {
      num.textContent = text;
      return;
    }
    const span = Object.assign(document.createElement("span"), { className: "num__unit", textContent: unit });
    num.replaceChildren(`${text.slice(0, at)} `, span);
  }

  function setBar(svg, demand, limit, low, high, word) {
    const load = svg?.querySelector(".margin__load");
    if (!load || !(limit > 0) || !Number.isFinite(demand)) return;
    const at = (value) => Math.min(Math.max((100 * value) / limit, 0), BAR_END);
    svg.setAttribute("class", `margin margin--${bench.MARKS[word]}`);
    load.setAttribute("width", at(demand).toFixed(2));
    const [a, b] = [at(low).toFixed(2), at(high).toFixed(2)];
    svg.querySelector(".margin__spread")?.setAttribute("d", `M${a} 7H${b}M${a} 4.5v5M${b} 4.5v5`);
  }

  const doubtOf = (now) => (Number.isFinite(now.margin - now.worst) ? now.margin - now.worst : 0);

  class Lines {
    constructor(root, data) {
      this.root = root;
      this.data = data;
      this.lines = new Map([...root.querySelectorAll("[data-line]")].map((e) => [Number(e.dataset.line), e]));
      this.governs = root.querySelector("[data-governs]");
      this.groups = [...root.querySelectorAll("[data-group]")];
      this.home = new Map();
      this.words = new Map();
      for (const [n, element] of this.lines) {
        const row = data.rows.find((r) => r.n === n);
        const group = row && root.querySelector(`[data-group="${row.group}"] [data-rows]`);
        if (group) this.home.set(n, group);
        this.words.set(n, element.querySelector("[data-left]").textContent);
      }
    }

    // Lines in closed groups wait until they are seen; all: show them too.
    show(state, all = false) {
      const { rows } = this.data, shut = new Set(this.groups.filter((g) => !g.open).map((g) => g.dataset.group));
      rows.forEach((row, i) => {
        const seen = all || !shut.has(row.group) || i === state.governing;
        if (row.form !== "steady" && seen) this.line(row, state.rows[i]);
      });
      this.govern(state.governing < 0 ? null : rows[state.governing].n);
      this.sum(state);
    }

    line(row, now) {
      const element = this.lines.get(row.n);
      if (!element) return;
      const { metric } = this.data, told = row.kind === "duty" || row.kind === "tax";
      const gone = now.code === bench.NOT_APPLICABLE;
      element.hidden = gone;
      if (gone) return;
      const word = bench.WORDS[now.code], plain = bench.yesOrNo(row, now);
      if (!told) setMark(element.querySelector("[data-mark] svg") ?? this.addMark(element), word);
      setNumber(element.querySelector(".line__demand"), plain ? "" : bench.amount(now.demand, row.unit, metric));
      setNumber(element.querySelector(".line__limit"), plain ? "" : bench.amount(now.limit, row.unit, metric));
      element.querySelector("[data-left]").textContent = bench.left(row, now, metric);
      const doubt = doubtOf(now);
      setBar(element.querySelector(".margin"), now.demand, now.limit, now.demand - doubt, now.demand + doubt, word);
      // What was said of it holds for the verdict it was said of.
      const note = element.querySelector("[data-note]");
      if (element.dataset.code !== undefined && element.dataset.code !== String(now.code)) note.hidden = true;
      element.dataset.code = now.code;
    }

    addMark(element) {
      const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
      const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
      for (const [name, value] of [["viewBox", "0 0 16 16"], ["role", "img"], ["aria-label", ""]]) svg.setAttribute(name, value);
      svg.append(use);
      element.querySelector("[data-mark]").append(svg);
      return svg;
    }

    // The governing limit stands first; the one before it goes back to its own kind.
    govern(n) {
      const now = this.governs.firstElementChild;
      if (now && Number(now.dataset.line) === n) return;
      if (now) this.home.get(Number(now.dataset.line))?.prepend(now);
      const next = this.lines.get(n);
      if (next) this.governs.append(next);
    }

    sum(state) {
      const worst = {}, count = {};
      this.data.rows.forEach((row, i) => {
        const { code } = state.rows[i];
        if (code === bench.NOT_APPLICABLE) return;
        count[row.group] = (count[row.group] ?? 0) + 1;
        // By the rule of the whole: guidance that fails or is not known makes it depend, and does no more.
        const advised = code <= bench.NOT_KNOWN ? bench.DEPENDS : bench.CLEAR;
        if (row.binds || row.kind === "guidance") {
          worst[row.group] = Math.min(worst[row.group] ?? bench.CLEAR, row.binds ? code : advised);
        }
      });
      for (const group of this.groups) {
        const name = group.dataset.group;
        setVerdict(group.querySelector("[data-worst] .verdict"), bench.WORDS[worst[name]]);
        const n = count[name] ?? 0;
        group.querySelector("summary i").textContent = `${n} ${n === 1 ? "limit" : "limits"}`;
      }
    }

    // What the desk says to do about each line.
    notes(notes) {
      for (const [n, element] of this.lines) {
        const note = element.querySelector("[data-note]");
        note.textContent = notes[n] ?? "";
        note.hidden = !notes[n];
      }
    }
  }

  // The loads a salesperson watches: each against the limit that stands closest.
  function closestRow(watched, state) {
    let best = null;
    for (const i of watched.rows) {
      const now = state.rows[i];
      if (now.code === bench.NOT_APPLICABLE) continue;
      const share = Number.isNaN(now.share) ? Infinity : now.share;
      if (!best || now.code < best.code || (now.code === best.code && share < best.share)) best = { ...now, share };
    }
    for (const i of best ? watched.also : []) best.code = Math.min(best.code, state.rows[i].code);
    return best;
  }

  function showLoads(root, data, state) {
    return data.watched.map((watched) => {
      const value = state.loads[watched.load].value, row = closestRow(watched, state);
      const tile = root.querySelector(`[data-watched="${watched.place}"]`);
      const told = { place: watched.place, value, limit: row ? row.limit : Infinity, code: row ? row.code : undefined };
      if (!tile) return told;
      tile.querySelector("[data-value]").textContent = bench.amount(value, "lb", data.metric);
      if (!row) return told;
      const word = bench.WORDS[row.code], doubt = doubtOf(row);
      setMark(tile.querySelector(".mark"), word);
      tile.querySelector(".load__value .hush").textContent = word;
      if (Number.isFinite(row.limit)) tile.querySelector("[data-limit]").textContent = `of ${bench.amount(row.limit, "lb", data.metric)}`;
      setBar(tile.querySelector(".margin"), row.demand, row.limit, value - doubt, value + doubt, word);
      return told;
    });
  }

  Object.assign(bench, { Lines, showLoads, setVerdict });
})();
