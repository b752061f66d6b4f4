// The placement bench: pieces move under the hand, the page reckons at once, the desk confirms on release.
"use strict";

(() => {
  const bench = globalThis.rubrailBench;
  const BEYOND_IN = 36;
  const REST_MS = 350;
  const SLIDE_MS = 280;
  const PATIENCE_MS = 8000;
  const SAYS = {
    desk: "Reckoned by the desk",
    page: "This page\u2019s own reckoning",
    asking: "Asking the desk",
    confirmed: "Confirmed by the desk",
    alone: "The desk does not answer: these numbers are this page\u2019s own",
  };

  class Bench {
    constructor(root) {
      this.root = root;
      this.gone = new AbortController();
      this.data = JSON.parse(root.dataset.bench);
      this.fronts = [...this.data.fronts];
      this.picked = 0;
      this.step = this.data.metric ? 10 / 25.4 : 1;
      this.form = root.querySelector("[data-stands]");
      this.keep = root.querySelector("[data-keep]");
      this.lines = new bench.Lines(root, this.data);
      this.figures = [...root.querySelectorAll("[data-size]")];
      this.dress();
      this.listen();
      this.show();
      root.dataset.live = "";
      this.unfold();
      window.addEventListener("resize", () => this.layOut(), { signal: this.gone.signal });
    }

    // Take the drawings into hand: grips on them, and the side view's grips as sliders for keys and readers.
    dress() {
      this.drawings = this.figures.flatMap((figure) =>
        [...figure.querySelectorAll("svg[data-view]")].map((svg) => new bench.Drawing(svg, this.data)));
      for (const drawing of this.drawings) {
        if (!drawing.side || drawing.svg.closest(".on-paper")) continue;
        drawing.svg.setAttribute("role", "group");
        drawing.grips.forEach((grip, item) => {
          const { low, high } = this.reach(item);
          const told = { role: "slider", tabindex: 0, "aria-label": this.data.names[item], "aria-orientation": "horizontal",
            "aria-valuemin": Math.round(low - this.data.origin_in), "aria-valuemax": Math.round(high - this.data.origin_in) };
          for (const [name, value] of Object.entries(told)) grip?.setAttribute(name, value);
        });
      }
      this.painted = "";
      for (const drawing of this.drawings) drawing.measure();
    }

    layOut() {
      for (const drawing of this.drawings) drawing.measure();
      this.painted = "";
      this.show();
    }

    // Paper has no folds.
    unfold() {
      const folds = () => [...this.root.querySelectorAll("[data-group]")];
      const { signal } = this.gone;
      let shut = [];
      window.addEventListener("beforeprint", () => {
        shut = folds().filter((fold) => !fold.open);
        for (const fold of shut) fold.open = true;
        this.lines.show(this.now, true);
        this.draw(this.drawings);
      }, { signal });
      window.addEventListener("afterprint", () => {
        for (const fold of shut) fold.open = false;
      }, { signal });
    }

    reach(item) {
      const { deck, pieces } = this.data;
      return { low: deck.front_in - pieces[item].length_in - BEYOND_IN, high: deck.rear_in + BEYOND_IN };
    }

    listen() {
      this.root.addEventListener("pointerdown", (event) => this.hold(event));
      // Where a browser takes no touch-action from a shape: a finger on a machine moves it, and not the page.
      this.root.addEventListener("touchstart", (event) => {
        if (event.target.closest?.("[data-grip]")) event.preventDefault();
      }, { passive: false });
      this.root.addEventListener("keydown", (event) => this.key(event));
      this.root.addEventListener("focusin", (event) => {
        const item = event.target.dataset?.grip ?? event.target.closest("[data-stand]")?.dataset.stand;
        if (item !== undefined) this.pick(Number(item));
      });
      this.form.addEventListener("submit", (event) => this.command(event));
      for (const nudge of this.form.querySelectorAll("[data-nudge]")) nudge.hidden = false;
      this.form.addEventListener("click", (event) => {
        const nudge = event.target.closest("[data-nudge]");
        if (nudge) this.nudge(Number(nudge.closest("[data-stand]").dataset.stand), Number(nudge.dataset.nudge));
      });
      this.form.addEventListener("change", (event) => {
        if (event.target.name === "at") this.typed(event.target);
      });
      this.root.addEventListener("toggle", (event) => {
        if (!event.target.open) return;
        if (event.target.matches("[data-why]")) this.why(event.target);
        if (event.target.matches("[data-group]")) this.lines.show(this.now);
      }, true);
    }

    pick(item) {
      if (!(item < this.fronts.length) || item === this.picked) return;
      this.picked = item;
      this.show();
    }

    // --- moving ---

    hold(event) {
      const grip = event.target.closest?.("[data-grip]");
      if (!grip || event.button > 0) return;
      const item = this.nearest(event, grip), start = this.fronts[item], from = event.clientX;
      const drawing = this.drawings.find((d) => d.grips.includes(grip));
      const perInch = drawing.svg.getScreenCTM().a * drawing.scale;
      this.pick(item);
      drawing.grips[item].focus?.({ preventScroll: true });
      event.preventDefault();
      grip.setPointerCapture(event.pointerId);
      this.held = true;
      const moved = (e) => this.put(item, this.snapped(start + (e.clientX - from) / perInch, start));
      const ends = ["pointerup", "pointercancel", "lostpointercapture"];
      const let_go = () => {
        grip.removeEventListener("pointermove", moved);
        ends.forEach((name) => grip.removeEventListener(name, let_go));
        this.held = false;
        if (this.fronts[item] !== start) this.confirm();
      };
      grip.addEventListener("pointermove", moved);
      ends.forEach((name) => grip.addEventListener(name, let_go));
    }

    // Where grips of small pieces overlap, the one whose middle is nearest is meant.
    nearest(event, grip) {
      const under = document.elementsFromPoint(event.clientX, event.clientY).filter((e) => e.dataset?.grip !== undefined);
      const off = (e) => {
        const box = e.getBoundingClientRect();
        return Math.abs(event.clientX - (box.left + box.right) / 2);
      };
      const svg = grip.ownerSVGElement;
      const same = under.filter((e) => e.ownerSVGElement === svg).sort((a, b) => off(a) - off(b));
      return Number((same[0] ?? grip).dataset.grip);
    }

    // Whole inches, or centimeters, from the front of the deck; where it stood stays where it stood.
    snapped(front, start) {
      if (Math.abs(front - start) < this.step / 2) return start;
      return this.data.origin_in + Math.round((front - this.data.origin_in) / this.step) * this.step;
    }

    put(item, front) {
      const { low, high } = this.reach(item);
      const to = Math.round(Math.min(Math.max(front, low), high) * 1000) / 1000;
      if (to === this.fronts[item]) return;
      this.fronts[item] = to;
      this.state("page");
      this.soon();
    }

    soon() {
      if (this.waiting) return;
      this.waiting = requestAnimationFrame(() => {
        this.waiting = 0;
        this.show();
      });
    }

    key(event) {
      if (event.target.dataset?.grip === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
      const item = Number(event.target.dataset.grip), { deck, pieces } = this.data;
      const by = (event.shiftKey ? 12 : 1) * this.step, front = this.fronts[item];
      const to = {
        ArrowLeft: front - by, ArrowDown: front - by, ArrowRight: front + by, ArrowUp: front + by,
        Home: deck.front_in, End: deck.flat_rear_in - pieces[item].length_in,
      }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      this.put(item, event.key.startsWith("Arrow") ? this.snapped(to, front) : to);
      this.rest();
    }

    nudge(item, way) {
      this.pick(item);
      this.put(item, this.snapped(this.fronts[item] + way * this.step, this.fronts[item]));
      this.rest();
    }

    // One press follows another: the desk is asked once the hand rests.
    rest() {
      this.show();
      clearTimeout(this.resting);
      this.resting = setTimeout(() => this.confirm(), REST_MS);
    }

    // A bare number moves the piece here and now; anything else is read by the desk.
    typed(input) {
      const item = Number(input.closest("[data-stand]").dataset.stand), text = input.value.trim().replace(/,/g, "");
      if (!/^-?\d+(\.\d+)?$/.test(text)) {
        this.form.requestSubmit(this.form.querySelector("[value=here]"));
        return;
      }
      this.put(item, this.data.origin_in + Number(text) / (this.data.metric ? 25.4 : 1));
      this.confirm();
    }

    slide(fronts) {
      const from = [...this.fronts], began = performance.now();
      const quick = matchMedia("(prefers-reduced-motion: reduce)").matches ? 1 : SLIDE_MS;
      this.state("page");
      const frame = (now) => {
        const t = Math.min(Math.max((now - began) / quick, 0), 1), eased = t * t * (3 - 2 * t);
        this.fronts = fronts.map((x, i) => (t === 1 ? x : from[i] + (x - from[i]) * eased));
        this.show();
        if (t < 1) requestAnimationFrame(frame);
        else this.confirm();
      };
      requestAnimationFrame(frame);
    }

    // --- showing ---

    show() {
      const now = bench.read(this.data, this.fronts);
      this.now = now;
      // Without the rows that must be asked for, only what is over already is sure.
      const open = now.asked.length > 0 && now.verdict > bench.OVER;
      const word = bench.WORDS[now.verdict];
      bench.setVerdict(this.root.querySelector("[data-word] .verdict"), open ? "not known" : word);
      const [says] = bench.sentence(this.data, now);
      this.told = says;
      this.say(open ? this.asking(now) : says);
      const row = this.data.rows[now.governing];
      const near = row ? bench.begin(bench.closest(row, now.rows[now.governing], this.data.metric)) : "";
      this.root.querySelector("[data-closest]").textContent = open ? "" : near;
      this.loads = bench.showLoads(this.root, this.data, now);
      this.lines.show(now);
      this.draw(this.drawings.filter((drawing) => drawing.seen));
      this.paint();
      this.write(word);
      this.root.dataset.verdict = open ? "asked" : word;
      const bigger = this.root.querySelector("[data-told]");
      if (bigger && now.verdict !== bench.OVER) bigger.replaceChildren();
    }

    draw(drawings) {
      for (const drawing of drawings) {
        drawing.place(this.fronts);
        drawing.pick(this.picked);
        for (const load of this.loads) drawing.letter(load.place, load);
      }
    }

    say(sentence) {
      for (const box of this.root.querySelectorAll("[data-sentence]")) box.textContent = sentence;
    }

    asking(now) {
      return `The desk is asked: ${now.asked.map((row) => row.name).join(", ")} cannot be told by this page while machines move.`;
    }

    // Bands of the picked piece rest on where the others stand.
    paint() {
      if (!this.fronts.length) return;
      const others = JSON.stringify([this.picked, this.fronts.toSpliced(this.picked, 1)]);
      if (this.painted !== others) {
        this.painted = others;
        const { low, high } = this.reach(this.picked), shift = this.data.pieces[this.picked].cg_in;
        this.found = bench.stretches(this.data, this.fronts, this.picked, low, high);
        const bands = ["depends", "clear"].flatMap((name) =>
          bench.atLeast(this.found, bench.WORDS.indexOf(name)).map((s) => ({ low: s.low + shift, high: s.high + shift, name })));
        for (const drawing of this.drawings) drawing.paint(bands);
      }
      const key = this.root.querySelector("[data-key]");
      key.hidden = false;
      key.textContent = this.room();
    }

    // How far the picked piece may go from here with the verdict it has.
    room() {
      const { metric, names } = this.data, x = this.fronts[this.picked], name = names[this.picked];
      if (!this.found) return "Where it may stand has to be asked for.";
      const far = (inches) => bench.feet(Math.floor(Math.max(inches, 0) * 10 + 1e-6) / 10, metric);
      for (const word of ["clear", "depends"]) {
        const here = bench.atLeast(this.found, bench.WORDS.indexOf(word)).find((s) => s.low - 1e-6 <= x && x <= s.high + 1e-6);
        const says = word === "clear" ? "stays clear" : "stays within the limits at the stated values";
        if (here) return `${name}: the rig ${says} up to ${far(x - here.low)} forward and ${far(here.high - x)} rearward of here.`;
      }
      const some = bench.atLeast(this.found, bench.DEPENDS).sort((a, b) => this.off(a, x) - this.off(b, x))[0];
      if (!some) return `${name}: no place of this one alone makes the rig clear.`;
      const by = some.low > x ? some.low - x : x - some.high;
      return `${name}: within the limits from ${bench.feet(Math.ceil(by * 10) / 10, metric)} ${some.low > x ? "rearward" : "forward"} of here.`;
    }

    off(s, x) {
      return Math.max(s.low - x, x - s.high, 0);
    }

    // Fields and sliders say where the pieces stand.
    write(word) {
      const { origin_in: origin, metric } = this.data;
      const order = this.fronts.map((x, i) => this.fronts.some((y, j) => j !== i && y < x));
      this.fronts.forEach((x, item) => {
        const stand = this.form.querySelector(`[data-stand="${item}"]`), from = x - origin;
        if (stand) {
          stand.querySelector("[name=x]").value = x.toFixed(3);
          const at = stand.querySelector("[name=at]"), text = metric ? (from * 25.4).toFixed(0) : String(bench.rounded(from, 2));
          if (at !== document.activeElement && !at.hasAttribute("aria-invalid")) at.value = text;
          const ahead = stand.querySelector("[data-ahead]");
          if (ahead) ahead.disabled = !order[item];
          stand.classList.toggle("is-picked", item === this.picked && this.fronts.length > 1);
        }
        if (this.keep) this.keep.querySelectorAll("[name=x]")[item].value = x.toFixed(3);
        for (const drawing of this.drawings) {
          const grip = drawing.grips[item];
          if (grip?.getAttribute("role") !== "slider") continue;
          grip.setAttribute("aria-valuenow", Math.round(from));
          grip.setAttribute("aria-valuetext", `${bench.feet(from, metric)} behind the ${this.data.origin}, ${word}`);
        }
      });
    }

    state(name, more = "") {
      this.root.dataset.says = name;
      const box = this.root.querySelector("[data-state]");
      box.dataset.state = name;
      box.querySelector("[data-state-words]").textContent = SAYS[name] + more;
    }

    // --- the desk ---

    sent() {
      const sent = new URLSearchParams(new FormData(this.form));
      sent.delete("at");
      sent.delete("add");
      return sent;
    }

    async confirm() {
      clearTimeout(this.resting);
      this.asked?.abort();
      const mine = (this.asked = new AbortController()), fronts = [...this.fronts];
      const late = setTimeout(() => mine.abort("late"), PATIENCE_MS);
      const body = this.sent();
      const shown = this.figures.find((f) => f.checkVisibility());
      if (shown) body.set("size", shown.dataset.size);
      body.append("size", "paper");
      this.state("asking");
      try {
        const headers = { ...JSON.parse(document.body.getAttribute("hx-headers") ?? "{}"), "X-Requested-With": "fetch" };
        const answer = await fetch(this.root.dataset.check, { method: "POST", body, headers, signal: mine.signal });
        if (answer.redirected || !answer.ok) throw new Error(`answered ${answer.status}`);
        const told = await answer.json();
        if (this.asked === mine && fronts.every((x, i) => x === this.fronts[i])) this.confirmed(told, fronts);
      } catch {
        if (this.asked === mine && (!mine.signal.aborted || mine.signal.reason === "late")) this.state("alone");
      } finally {
        clearTimeout(late);
      }
    }

    confirmed(told, fronts) {
      this.take(told, fronts);
      if (!this.held) this.redraw(told.drawings);
      this.show();
      this.say(told.sentence);
      this.lines.notes(told.notes);
      const agrees = this.root.dataset.verdict === told.verdict;
      bench.setVerdict(this.root.querySelector("[data-word] .verdict"), told.verdict);
      this.root.dataset.verdict = told.verdict;
      this.state("confirmed", agrees ? "" : ", which says otherwise than this page did");
      history.replaceState(history.state, "", `${this.root.dataset.page}?${told.address}`);
      for (const link of this.root.querySelectorAll("[data-follow]")) {
        const more = link.dataset.follow;
        link.search = more ? `${told.address}&${more}` : told.address;
      }
      const box = document.getElementById("said");
      if (box) box.textContent = told.sentence;
      for (const open of this.root.querySelectorAll("details[data-why][open]")) this.why(open);
      this.remedies(told.verdict);
    }

    // Rows that are not straight hold where the desk was asked, and nowhere else.
    take(told, fronts) {
      const by = new Map(told.rows.map((row) => [row[0], row]));
      for (const row of this.data.rows) {
        const said = by.get(row.n);
        if (row.form !== "asked" || !said) continue;
        [, row.demand, row.limit, row.margin, row.worst, row.share, row.code] = said;
        row.at = fronts;
      }
      this.root.dataset.toldRows = JSON.stringify(told.rows);
      this.root.dataset.toldLoads = JSON.stringify(told.loads);
    }

    // Drawn anew by the desk: letters find their room again, and paper gets its dimensions.
    redraw(drawings) {
      const at = document.activeElement?.dataset?.grip, holder = document.activeElement?.closest("[data-size]");
      const parser = new DOMParser();
      for (const figure of this.figures) {
        const fresh = drawings[figure.dataset.size];
        if (!fresh) continue;
        const parsed = [fresh.side, fresh.plan].map((text) => parser.parseFromString(text, "image/svg+xml").documentElement);
        figure.replaceChildren(...parsed.map((svg) => document.importNode(svg, true)));
      }
      this.dress();
      if (at !== undefined) holder?.querySelector(`[role=slider][data-grip="${at}"]`)?.focus({ preventScroll: true });
    }

    why(details) {
      const asked = this.sent();
      if (details.dataset.member) asked.set("member", details.dataset.member);
      const path = `${details.dataset.why}?${asked}`;
      globalThis.htmx?.ajax("GET", path, { target: details.querySelector("[data-body]"), swap: "innerHTML" });
    }

    remedies(verdict) {
      const box = this.root.querySelector("[data-told]");
      if (!box || verdict !== "over") return;
      globalThis.htmx?.ajax("GET", `${this.root.dataset.remedies}?${this.sent()}`, { target: box, swap: "innerHTML" });
    }

    // A button's wish: what this page can do itself it does, the rest the desk lays out anew.
    command(event) {
      const button = event.submitter, { best, facing } = this.data;
      event.preventDefault();
      if (button?.value === "best" && best && best.facing.every((w, i) => w === facing[i])) {
        this.slide(best.x);
        return;
      }
      this.asked?.abort();
      const asked = new URLSearchParams(new FormData(this.form, button));
      this.state("asking");
      globalThis.htmx.ajax("GET", `${this.root.dataset.page}?${asked}`, { target: "#bench", swap: "innerHTML" });
    }
  }

  let there = null;

  function begin() {
    const root = document.querySelector("[data-bench]");
    if (!root || root.dataset.live !== undefined) return;
    there?.gone.abort();
    there = root.bench = new Bench(root);
    there.remedies(root.dataset.verdict);
  }

  begin();
  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.target.id !== "bench") return;
    begin();
    const box = document.getElementById("said");
    if (box) box.textContent = event.target.querySelector("[data-sentence]").textContent;
  });
  document.addEventListener("htmx:sendError", () => there?.state("alone"));
})();
