// A take: the words scroll past a line at the chosen pace, hold under a tap, and the times of stations are noted.
"use strict";

(() => {
  const form = document.querySelector("[data-cue]");
  if (!form) return;
  const find = (name) => form.querySelector(`[data-${name}]`);
  const stage = find("stage");
  const all = [...stage.querySelectorAll("[data-station]")];
  const [pace, size, lead, mirror] = ["pace", "size", "lead", "mirror"].map(find);
  const [line, bar, hold, count] = ["line", "bar", "hold", "count"].map(find);
  const kept = `rubrail-cue:${location.pathname}${location.search}`;
  const CHOICES = "rubrail-cue";
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  const READING = 0.38;
  const PAGE = 0.5;
  const STEP = 10;
  let shown = all;
  let plan = [];
  let words = PACE();
  let take = null;
  let noted = [];
  let lock = null;

  find("start").hidden = false;
  if (!navigator.wakeLock) dark();
  read();
  lay();
  form.addEventListener("input", () => {
    write();
    lay();
  });
  find("start").addEventListener("click", begin);
  find("end").addEventListener("click", end);
  hold.addEventListener("click", toggle);
  find("back").addEventListener("click", () => jump(-1));
  find("on").addEventListener("click", () => jump(1));
  find("slower").addEventListener("click", () => faster(-STEP));
  find("faster").addEventListener("click", () => faster(STEP));
  find("note").addEventListener("click", note);
  find("forget").addEventListener("click", () => {
    noted = [];
    tell();
  });
  stage.addEventListener("click", (event) => {
    if (take && !event.target.closest("[data-bar]")) toggle();
  });
  addEventListener("keydown", keys);
  // Enter in the field would send the form, which asks for captions.
  pace.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    begin();
  });
  // A full screen is left by a key or a swipe that the page never hears of.
  document.addEventListener("fullscreenchange", () => {
    if (take && take.full && !document.fullscreenElement) end();
  });
  document.addEventListener("visibilitychange", () => {
    if (take && document.visibilityState === "visible") awake();
  });

  function PACE() {
    const typed = Number(pace.value);
    const fits = Number.isInteger(typed) && typed >= Number(pace.dataset.slowest) && typed <= Number(pace.dataset.fastest);
    pace.setAttribute("aria-invalid", String(!fits));
    return fits ? typed : 130;
  }

  // What was chosen and written before, on this device; an address that chooses goes first.
  function read() {
    try {
      const chosen = JSON.parse(localStorage.getItem(CHOICES) || "{}");
      if (!("chosen" in form.dataset)) {
        if (chosen.pace) pace.value = chosen.pace;
        if (chosen.size) size.value = chosen.size;
        if (chosen.lead) lead.value = chosen.lead;
        mirror.checked = Boolean(chosen.mirror);
      }
      const mine = JSON.parse(localStorage.getItem(kept) || "{}");
      for (const box of form.querySelectorAll("[data-say]")) {
        if (mine.say && mine.say[box.dataset.say] !== undefined) box.value = mine.say[box.dataset.say];
      }
      for (const box of form.querySelectorAll("[data-leave]")) {
        if (mine.leave && !("chosen" in form.dataset)) box.checked = mine.leave.includes(box.dataset.leave);
      }
    } catch {
      // Storage is closed: what is chosen lasts as long as the page.
    }
  }

  function write() {
    const say = {};
    for (const box of form.querySelectorAll("[data-say]")) if (box.value !== box.defaultValue) say[box.dataset.say] = box.value;
    const leave = [...form.querySelectorAll("[data-leave]:checked")].map((box) => box.dataset.leave);
    try {
      localStorage.setItem(CHOICES, JSON.stringify(choices()));
      localStorage.setItem(kept, JSON.stringify({ say, leave }));
    } catch {
      // As above.
    }
  }

  function choices() {
    return { pace: pace.value, size: size.value, lead: lead.value, mirror: mirror.checked };
  }

  // The stage as the fields say: words, stations, type, and the time each takes.
  function lay() {
    words = PACE();
    stage.dataset.type = size.value;
    stage.toggleAttribute("data-mirrored", mirror.checked);
    for (const station of all) {
      const key = station.dataset.station;
      station.hidden = form.querySelector(`[data-leave="${key}"]`).checked;
      const text = form.querySelector(`[data-say="${key}"]`).value;
      for (const old of station.querySelectorAll("p")) old.remove();
      for (const part of text.split("\n").filter((t) => t.trim())) {
        const p = document.createElement("p");
        p.textContent = part.trim();
        station.append(p);
      }
    }
    shown = all.filter((station) => !station.hidden);
    time();
  }

  function time() {
    plan = cueClock.plan(shown.map(textOf), words);
    shown.forEach((station, n) => {
      station.querySelector("[data-long]").textContent = cueClock.said(plan[n].long);
    });
    find("total").textContent = cueClock.said(total());
  }

  function textOf(station) {
    return [...station.querySelectorAll("p")].map((p) => p.textContent).join(" ");
  }

  function total() {
    return plan.length ? plan.at(-1).start + plan.at(-1).long : 0;
  }

  function begin() {
    if (!shown.length) return;
    // The film begins with the take; the words begin when the count has come to nothing.
    const wait = Number(lead.value) || 0;
    noted = [[shown[0].dataset.station, wait]];
    take = { at: -wait, running: true, last: performance.now(), begun: performance.now(), full: false };
    held();
    stage.dataset.running = "yes";
    line.hidden = bar.hidden = false;
    stage.focus();
    if (stage.requestFullscreen) {
      const mine = take;
      stage.requestFullscreen().then(() => { mine.full = true; }, () => {});
    }
    awake();
    tell();
    requestAnimationFrame(step);
  }

  function end() {
    if (!take) return;
    take = null;
    delete stage.dataset.running;
    line.hidden = bar.hidden = count.hidden = true;
    stage.scrollTop = 0;
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    if (lock) lock.release().catch(() => {});
    lock = null;
    tell();
    find("start").focus();
  }

  async function awake() {
    try {
      lock = await navigator.wakeLock.request("screen");
      if (!take) lock.release().catch(() => {});
    } catch {
      dark();
    }
  }

  function dark() {
    find("dark").hidden = false;
  }

  function step(now) {
    if (!take) return;
    if (take.running) take.at = Math.min(take.at + (now - take.last) / 1000, total());
    take.last = now;
    const n = current();
    const place = reading(n);
    // Without motion the words stand, and turn a page when the line has come to its end.
    const page = stage.clientHeight * PAGE;
    stage.scrollTop = still.matches ? Math.floor(place / page) * page : place;
    line.hidden = still.matches;
    count.hidden = take.at >= 0;
    count.textContent = Math.ceil(-take.at);
    find("where").textContent = take.at < total() ? shown[n].querySelector("[data-name]").textContent : "All said";
    find("clock").textContent = `${cueClock.said(Math.max(take.at, 0))} of ${cueClock.said(total())}, ${words} a minute`;
    stage.dataset.at = take.at.toFixed(2);
    requestAnimationFrame(step);
  }

  function current() {
    let n = 0;
    while (n + 1 < plan.length && take.at >= plan[n + 1].start - 0.001) n += 1;
    return n;
  }

  // How far the words have moved, so that those said now lie on the line; from station to station it glides.
  function reading(n) {
    const gone = Math.max(take.at - plan[n].start, 0);
    const [top, end] = spoken(shown[n]);
    const place = gone < plan[n].long ? top + (gone / plan[n].long) * (end - top) : end;
    const next = shown[n + 1] && gone > plan[n].long ? spoken(shown[n + 1])[0] : place;
    const glide = Math.min(Math.max(gone - plan[n].long, 0) / cueClock.PAUSE_S, 1);
    return place + glide * (next - place) - stage.clientHeight * READING;
  }

  // Where a station's words begin and end: nobody says its title.
  function spoken(station) {
    const said = station.querySelectorAll("p");
    const [first, last] = said.length ? [said[0], said[said.length - 1]] : [station, station];
    return [first.offsetTop, last.offsetTop + last.offsetHeight];
  }

  function toggle() {
    if (!take) return;
    take.running = !take.running;
    held();
  }

  function held() {
    hold.textContent = take.running ? "Hold" : "Go on";
    stage.toggleAttribute("data-held", !take.running);
  }

  // Another pace, from the word one is at.
  function faster(by) {
    if (!take) return;
    const [least, most] = [pace.dataset.slowest, pace.dataset.fastest].map(Number);
    const n = current();
    const share = (take.at - plan[n].start) / (plan[n].long + cueClock.PAUSE_S);
    words = Math.min(Math.max(words + by, least), most);
    pace.value = words;
    time();
    if (take.at > 0) take.at = Math.min(plan[n].start + share * (plan[n].long + cueClock.PAUSE_S), total());
    write();
  }

  function jump(by) {
    if (!take) return;
    const to = Math.min(Math.max(current() + by, 0), plan.length - 1);
    take.at = plan[to].start;
  }

  function note() {
    if (!take || noted.length >= shown.length) return;
    const seconds = (performance.now() - take.begun) / 1000;
    noted.push([shown[noted.length].dataset.station, Math.round(seconds * 10) / 10]);
    tell();
  }

  function tell() {
    find("times").value = noted.map(([key, s]) => `${key}=${s}`).join(",");
    const list = find("noted");
    list.replaceChildren(
      ...noted.map(([key, s]) => {
        const row = document.createElement("li");
        const name = stage.querySelector(`[data-station="${key}"] [data-name]`).textContent;
        row.textContent = `${cueClock.said(s)} ${name}`;
        return row;
      }),
    );
    find("noted-button").hidden = find("forget").hidden = !noted.length;
    const next = shown[noted.length];
    const button = find("note");
    button.disabled = !next;
    button.textContent = next ? `Note ${next.querySelector("[data-name]").textContent.split(".")[0]}` : "All noted";
    button.setAttribute("aria-label", next ? `Note the time: ${next.querySelector("[data-name]").textContent}` : "All noted");
  }

  function keys(event) {
    if (!take || event.target.closest("input, textarea, select")) return;
    const act = {
      " ": toggle, ArrowLeft: () => jump(-1), ArrowUp: () => jump(-1), ArrowRight: () => jump(1),
      ArrowDown: () => jump(1), n: note, "+": () => faster(STEP), "-": () => faster(-STEP), Escape: end,
    }[event.key];
    if (!act || (event.key === " " && event.target.closest("button"))) return;
    event.preventDefault();
    act();
  }
})();
