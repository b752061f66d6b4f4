// A checklist on a phone: each line goes to the outbox the moment it is pressed, and shows what the desk made of it.
"use strict";

(() => {
  const list = document.getElementById("lines");
  if (!list) return;
  const WORDS = { ok: "in order", "not ok": "not in order", "not here": "not on it" };
  const mine = (entry) => entry.group.split(" ").slice(0, 2).join(" ") === `check ${list.dataset.check}`;
  const field = (entry, name) => entry.fields.find(([each]) => each === name)?.[1] ?? "";
  const rowOf = (key) => list.querySelector(`[data-line="${CSS.escape(key)}"]`);

  // What waits is shown as what waits, never as in order: only the desk judges.
  const show = (entry) => {
    const row = rowOf(field(entry, "line"));
    const told = row?.querySelector("[data-kept]");
    if (!told) return;
    const files = entry.fields.filter(([, value]) => value instanceof Blob);
    const parts = files.length ? [`${files.length} ${files.length === 1 ? "photo" : "photos"}`] : [];
    if (!files.length) parts.push(...row.dataset.entry === "look" || field(entry, "answer") !== "ok" ? [WORDS[field(entry, "answer")]] : []);
    row.querySelectorAll("[data-line-form] input:not([type=hidden])").forEach((input) => {
      if (!files.length && field(entry, input.name)) {
        input.value = field(entry, input.name);
        parts.push(input.value);
      }
    });
    const note = row.querySelector("[data-line-form] textarea");
    if (note && !files.length && field(entry, "text")) {
      note.value = field(entry, "text");
      note.closest("details")?.setAttribute("open", "");
    }
    row.dataset.waits = String(Number(row.dataset.waits || 0) + 1);
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
      let shelf = row.querySelector(".line__photos");
      if (!shelf) {
        shelf = document.createElement("ul");
        shelf.className = "line__photos";
        row.querySelector("[data-kept]").after(shelf);
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
    return { row: part(`line-${key}`), head: part("check-head") };
  };

  // Somebody chose the desk's entry over theirs: the line is as the desk has it; what stands at other lines stays.
  const dropped = async (entry) => {
    const key = field(entry, "line");
    const { row, head } = await parts(key);
    if (head) put(document.getElementById("check-head"), head);
    const fresh = row && rowOf(key) ? put(rowOf(key), row) : null;
    if (fresh) ready(fresh);
    else rowOf(key)?.querySelector("[data-kept]")?.setAttribute("hidden", "");
  };

  // The desk's own words of the line and of the page's head; what somebody types meanwhile is not taken away.
  const settle = async (entry, told, refused) => {
    const key = field(entry, "line");
    const answer = told?.row || refused ? told : { ...told, ...(await parts(key)) };
    const row = rowOf(key);
    if (answer?.head) put(document.getElementById("check-head"), answer.head);
    if (!row) return;
    const waiting = (await window.rubrailOutbox.entries()).filter((each) => mine(each) && field(each, "line") === key && each.state === "waiting");
    const open = [...row.querySelectorAll("details[open]")].length > 0 && row.contains(document.activeElement);
    const typed = [...row.querySelectorAll("[data-line-form] input:not([type=hidden]), [data-line-form] textarea")].map((input) => [input.name, input.value]);
    const here = document.activeElement?.id;
    if (!answer?.row || waiting.length) {
      if (refused) tell(row, answer?.says || "The desk does not take it.");
      return;
    }
    const was = row.contains(document.activeElement);
    const fresh = put(row, answer.row);
    if (refused || (open && was)) {
      for (const [name, value] of typed) {
        const input = fresh.querySelector(`[data-line-form] [name="${CSS.escape(name)}"]`);
        if (input) input.value = value;
      }
    }
    if (refused) tell(fresh, answer.says);
    if (was && here) document.getElementById(here)?.focus({ preventScroll: true });
    ready(fresh);
  };

  const tell = (row, says) => {
    const told = row.querySelector("[data-kept]");
    told.textContent = `Not taken: ${says}`;
    told.hidden = false;
  };

  document.addEventListener("outbox:kept", ({ detail }) => { if (mine(detail.entry) && field(detail.entry, "line")) show(detail.entry); });
  document.addEventListener("outbox:taken", ({ detail }) => { if (mine(detail.entry)) settle(detail.entry, detail.answer, false); });
  document.addEventListener("outbox:parked", ({ detail }) => { if (mine(detail.entry)) settle(detail.entry, detail.answer, true); });
  document.addEventListener("outbox:dropped", ({ detail }) => { if (mine(detail.entry)) dropped(detail.entry); });

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

  const begin = async () => (await window.rubrailOutbox.entries())
    .filter((entry) => mine(entry) && rowOf(field(entry, "line")))
    .forEach((entry) => {
      show(entry);
      if (entry.state !== "waiting") tell(rowOf(field(entry, "line")), entry.told?.says || "The desk does not take it.");
    });
  if (window.rubrailOutbox) begin();
  else document.addEventListener("outbox:ready", begin);
})();
