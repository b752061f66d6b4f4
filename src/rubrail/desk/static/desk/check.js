// A checklist on a phone: each line goes to the outbox the moment it is pressed, and shows what the desk made of it.
// Its stations fold; what goes on next is always under the thumb.
"use strict";

(() => {
  const list = document.getElementById("lines");
  if (!list) return;
  const bar = document.getElementById("check-bar");
  const WORDS = { ok: "in order", "not ok": "not in order", "not here": "not on it" };
  const mine = (entry) => entry.group.split(" ").slice(0, 2).join(" ") === `check ${list.dataset.check}`;
  const field = (entry, name) => entry.fields.find(([each]) => each === name)?.[1] ?? "";
  const rowOf = (key) => list.querySelector(`[data-line="${CSS.escape(key)}"]`);
  const formOf = (row) => row.querySelector("[data-line-form]");
  const typedIn = (row) => [...(formOf(row)?.elements ?? [])].filter((it) => it.matches("textarea, input:not([type=hidden])"));
  const KEPT_FOLDS_MS = 1_500;

  // What waits is shown as what waits, never as in order: only the desk judges.
  const show = (entry) => {
    const row = rowOf(field(entry, "line"));
    const told = row?.querySelector("[data-kept]");
    if (!told) return;
    const files = entry.fields.filter(([, value]) => value instanceof Blob);
    const parts = files.length ? [`${files.length} ${files.length === 1 ? "photo" : "photos"}`] : [];
    if (!files.length) parts.push(...row.dataset.entry === "look" || field(entry, "answer") !== "ok" ? [WORDS[field(entry, "answer")]] : []);
    typedIn(row).forEach((input) => {
      if (files.length || !field(entry, input.name)) return;
      input.value = field(entry, input.name);
      parts.push(input.value);
      input.closest("details.line__note")?.setAttribute("open", "");
    });
    // Where no desk answers the line is done for now: it folds to what was kept of it, and the next comes up.
    if (!files.length || row.dataset.entry === "photo") {
      row.dataset.waits = "";
      window.setTimeout(() => {
        if (row.isConnected && "waits" in row.dataset) row.querySelector(".line__fold").open = false;
      }, navigator.onLine ? KEPT_FOLDS_MS : 0);
    }
    told.textContent = `Kept on this device, not yet at the desk: ${parts.filter(Boolean).join(", ")}.`;
    told.hidden = false;
    files.forEach(([, blob]) => preview(row, blob));
  };

  // The page may load pictures from the desk alone; one that still waits here is drawn from its points.
  const preview = async (row, blob) => {
    try {
      const picture = await createImageBitmap(blob);
      const canvas = document.createElement("canvas");
      canvas.width = 208;
      canvas.height = 160;
      const scale = Math.max(canvas.width / picture.width, canvas.height / picture.height);
      const [w, h] = [picture.width * scale, picture.height * scale];
      canvas.getContext("2d").drawImage(picture, (canvas.width - w) / 2, (canvas.height - h) / 2, w, h);
      canvas.setAttribute("role", "img");
      canvas.setAttribute("aria-label", "Photo that waits to be sent");
      let shelf = row.querySelector("[data-waiting]");
      if (!shelf) {
        shelf = document.createElement("ul");
        shelf.className = "line__photos";
        shelf.dataset.waiting = "";
        row.append(shelf);
      }
      const item = document.createElement("li");
      item.append(canvas);
      shelf.append(item);
    } catch {
      // A picture this browser cannot read is sent all the same; the desk says what it makes of it.
    }
  };

  const put = (target, html) => {
    const holder = document.createElement("template");
    holder.innerHTML = html;
    const fresh = holder.content.firstElementChild;
    if (fresh) target?.replaceWith(fresh);
    return fresh;
  };

  // An answer that was lost and is given again has no page in it: look at the page itself.
  const parts = async (key) => {
    const page = await fetch(window.location.pathname, { cache: "no-store" }).then((r) => r.text()).catch(() => "");
    const read = new DOMParser().parseFromString(page, "text/html");
    const part = (id) => read.getElementById(id)?.outerHTML;
    const station = rowOf(key)?.closest(".station").id;
    return { row: part(`line-${key}`), head: part("check-head"), station: station && part(`${station}-head`) };
  };

  // Somebody chose the desk's entry over theirs: the line is as the desk has it; what stands at other lines stays.
  const dropped = async (entry) => {
    const key = field(entry, "line");
    const { row, head, station } = await parts(key);
    heads(key, head, station);
    const fresh = row && rowOf(key) ? put(rowOf(key), row) : null;
    if (fresh) ready(fresh);
    else rowOf(key)?.querySelector("[data-kept]")?.setAttribute("hidden", "");
  };

  const heads = (key, head, station) => {
    if (head) put(document.getElementById("check-head"), head);
    if (station) put(rowOf(key)?.closest(".station").querySelector(".station__head"), station);
  };

  // The desk's own words of the line and of the page's head; what somebody types meanwhile is not taken away.
  const settle = async (entry, told, refused) => {
    const key = field(entry, "line");
    const answer = told?.row || refused ? told : { ...told, ...(await parts(key)) };
    const row = rowOf(key);
    if (row) heads(key, answer?.head, answer?.station);
    if (!row) return;
    const waiting = (await window.rubrailOutbox.entries()).filter((each) => mine(each) && field(each, "line") === key && each.state === "waiting");
    const typed = typedIn(row).map((input) => [input.name, input.value]);
    const here = document.activeElement?.id;
    if (!answer?.row || waiting.length) {
      if (refused) tell(row, answer?.says || "The desk does not take it.");
      return;
    }
    const was = row.contains(document.activeElement);
    const files = entry.fields.some(([, value]) => value instanceof Blob);
    const typing = typedIn(row).some((input) => input.value !== (files ? input.defaultValue : field(entry, input.name)));
    const fresh = put(row, answer.row);
    if (refused || typing) {
      fresh.querySelector(".line__fold").open = true;
      const fields = new Map(typedIn(fresh).map((input) => [input.name, input]));
      typed.forEach(([name, value]) => { if (fields.has(name)) fields.get(name).value = value; });
    }
    if (refused) tell(fresh, answer.says);
    // Who goes on by the keyboard stays where they were, at the line's own head where it folded.
    if (was || (document.activeElement === document.body && key === place.key)) {
      const again = document.getElementById(here || "");
      (again?.checkVisibility() ? again : fresh.querySelector(".line__head")).focus({ preventScroll: true });
    }
    ready(fresh);
  };

  const tell = (row, says) => {
    delete row.dataset.waits;
    row.querySelector(".line__fold").open = true;
    const told = row.querySelector("[data-kept]");
    told.textContent = `Not taken: ${says}`;
    told.hidden = false;
  };

  // where the walk goes on ------------------------------------------------------------------------------------------

  const place = { key: "" };
  const many = (n, one) => `${n} ${one}${n === 1 ? "" : "s"} left`;

  // The first line behind the one somebody was at that nobody looked at, and that does not wait here; else from the top.
  const nextRow = () => {
    const rows = [...list.querySelectorAll("[data-line]")];
    const at = rows.findIndex((row) => row.dataset.line === place.key);
    const left = (row) => "open" in row.dataset && !("waits" in row.dataset);
    return { count: rows.filter(left).length, row: [...rows.slice(at + 1), ...rows.slice(0, at + 1)].find(left) };
  };

  const goOn = async () => {
    if (!bar) return;
    const { count, row } = nextRow();
    const link = bar.querySelector("[data-next]");
    bar.querySelector("[data-left]").textContent = many(count, "line");
    link.hidden = !row && !document.getElementById("sign");
    link.textContent = row ? `Next: ${row.querySelector("h3").firstChild.textContent.trim()}` : "Sign it";
    link.setAttribute("href", row ? `#${row.id}` : "#sign");
    const unsent = bar.querySelector("[data-unsent]");
    const waits = (await window.rubrailOutbox?.entries() ?? []).filter(mine).length;
    unsent.hidden = !waits;
    unsent.textContent = waits ? `${waits} not sent yet` : "";
  };

  // A link to a line opens its station; a station that is done folds behind whoever goes on.
  const reveal = (hash, leaving) => {
    const target = hash.length > 1 && document.getElementById(decodeURIComponent(hash.slice(1)));
    const station = target && target.closest(".station");
    if (!station) return false;
    station.open = true;
    const fold = target.querySelector(".line__fold");
    if (fold) fold.open = true;
    place.key = target.dataset.line ?? place.key;
    if (leaving) list.querySelectorAll(".station[open]").forEach((each) => {
      const rows = [...each.querySelectorAll("[data-line]")];
      const done = rows.every((row) => !("open" in row.dataset) || "waits" in row.dataset);
      if (each !== station && done && !rows.some((row) => typedIn(row).some((it) => it.value !== it.defaultValue))) each.open = false;
    });
    target.scrollIntoView();
    return true;
  };

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#line-'], [data-next]");
    if (!link) return;
    const next = link.matches("[data-next]");
    if (!reveal(link.hash, next) || !next) return;
    // The bar names the one after it at once; the browser would follow that.
    event.preventDefault();
    goOn();
  });
  window.addEventListener("hashchange", () => reveal(window.location.hash, false));
  list.addEventListener("focusin", (event) => { place.key = event.target.closest("[data-line]")?.dataset.line ?? place.key; });

  const every = list.querySelector("[data-every]");
  every.addEventListener("click", (event) => {
    event.preventDefault();
    const open = every.dataset.every === "open";
    const next = nextRow().row?.closest(".station");
    list.querySelectorAll(".station").forEach((each) => { each.open = open || each === next; });
    every.dataset.every = open ? "fold" : "open";
    every.textContent = open ? "Fold the stations" : "Open every station";
  });

  // For browsers whose folds do not open on paper by themselves.
  let folded = [];
  window.addEventListener("beforeprint", () => {
    folded = [...list.querySelectorAll(".station:not([open]), .line__fold:not([open])")];
    folded.forEach((each) => { each.open = true; });
  });
  window.addEventListener("afterprint", () => { folded.forEach((each) => { each.open = false; }); });

  document.addEventListener("outbox:kept", ({ detail }) => {
    if (!mine(detail.entry)) return;
    if (field(detail.entry, "line")) {
      place.key = field(detail.entry, "line");
      show(detail.entry);
    }
    goOn();
  });
  document.addEventListener("outbox:taken", ({ detail }) => { if (mine(detail.entry)) settle(detail.entry, detail.answer, false).then(goOn); });
  document.addEventListener("outbox:parked", ({ detail }) => { if (mine(detail.entry)) settle(detail.entry, detail.answer, true).then(goOn); });
  document.addEventListener("outbox:dropped", ({ detail }) => { if (mine(detail.entry)) dropped(detail.entry).then(goOn); });

  // A photo is sent as soon as it is taken: one press less in the rain.
  const ready = (root) => root.querySelectorAll("[data-photo-form]").forEach((form) => {
    const send = form.querySelector("[data-photo-send]");
    send.hidden = true;
    form.dataset.live = "";
    form.querySelector("input[type=file]").addEventListener("change", (event) => {
      if (event.target.files.length) form.requestSubmit();
    });
  });
  ready(list);

  const begin = async () => {
    (await window.rubrailOutbox.entries())
      .filter((entry) => mine(entry) && rowOf(field(entry, "line")))
      .forEach((entry) => {
        show(entry);
        if (entry.state !== "waiting") tell(rowOf(field(entry, "line")), entry.told?.says || "The desk does not take it.");
      });
    await goOn();
    const next = nextRow().row;
    if (next) next.closest(".station").open = true;
  };
  if (window.rubrailOutbox) begin();
  else document.addEventListener("outbox:ready", begin);
})();
