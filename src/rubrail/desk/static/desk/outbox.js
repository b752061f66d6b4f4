// The outbox: what is entered is kept on this device the moment it is sent, and sent when the desk answers; in order,
// each once. Works over plain http. A form joins by data-outbox="group"; entries are sent in order, and one that the desk
// refused stops those of its group behind it, and of the groups above ("check 7" is above "check 7 spare"), until somebody
// decides.
"use strict";

(() => {
  const box = document.getElementById("outbox");
  if (!box) return;

  const ME = box.dataset.who;
  const LINE = box.querySelector("[data-outbox-line]");
  const PARKED = box.querySelector("[data-outbox-parked]");
  const FIRST_WAIT_MS = 2_000;
  const MOST_WAIT_MS = 60_000;
  const SEND_MS = 60_000;
  const SLOWEST_BYTES_A_MS = 4;
  const MOST_TRIES = 5;
  const ASK_MS = 15_000;
  const PHOTO_PX = 2_000;
  const PHOTO_BYTES = 1_200_000;

  let wait = FIRST_WAIT_MS;
  let timer = 0;
  let sending = false;
  let more = false;
  let unanswered = false;
  let signedOut = false;
  let sentSome = false;
  const putHere = new Set();

  // storage ------------------------------------------------------------------------------------------------------

  let opened = null;
  const open = () => {
    opened ??= new Promise((done, failed) => {
      const asked = window.indexedDB.open("rubrail-outbox", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("entries", { keyPath: "n", autoIncrement: true });
      asked.onerror = () => failed(asked.error);
      asked.onsuccess = () => {
        asked.result.onclose = () => { opened = null; };
        done(asked.result);
      };
    });
    return opened;
  };

  // A phone that slept may have closed the storage under the page: open it anew, once.
  const begin = async (mode) => {
    const how = mode === "readwrite" ? { durability: "strict" } : {};
    try {
      return (await open()).transaction("entries", mode, how);
    } catch {
      opened = null;
      return (await open()).transaction("entries", mode, how);
    }
  };

  // Done when the transaction is, not when the request is: only then is it on the disk.
  const store = async (mode, act) => {
    const work = await begin(mode);
    return new Promise((done, failed) => {
      const asked = act(work.objectStore("entries"));
      work.oncomplete = () => done(asked.result);
      work.onerror = work.onabort = () => failed(work.error);
    });
  };

  // What the storage does not take (it is full, or the browser allows none) is kept by the open page, and said so.
  const loose = [];
  let lastLoose = 0;

  const stored = () => store("readonly", (kept) => kept.getAll()).catch(() => []);
  const entries = async () => [...await stored(), ...loose];
  const looseAt = (entry) => loose.findIndex((each) => each.n === entry.n);

  // Another tab may have sent it meanwhile: what is gone is not put back.
  const write = async (entry) => {
    const at = looseAt(entry);
    if (at >= 0) loose[at] = entry;
    else await store("readwrite", (kept) => {
      const asked = kept.get(entry.n);
      asked.onsuccess = () => { if (asked.result) kept.put(entry); };
      return asked;
    });
  };

  const remove = async (entry) => {
    const at = looseAt(entry);
    if (at >= 0) loose.splice(at, 1);
    else await store("readwrite", (kept) => kept.delete(entry.n));
  };

  const add = async (entry) => {
    for (const make of [() => entry, () => made(entry)]) {
      try {
        const tried = await make();
        return { ...tried, n: await store("readwrite", (kept) => kept.add(tried)) };
      } catch {
        // Too large for what is left: once more with its pictures made smaller.
      }
    }
    lastLoose -= 1;
    const held = { ...entry, n: lastLoose };
    loose.push(held);
    return held;
  };

  // crypto.randomUUID is not there over plain http.
  const newKey = () => {
    const bytes = window.crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
  };

  // A phone's photo has four times the points the desk keeps; the yard's far corner has little reception.
  const smaller = async (file) => {
    if (!(file instanceof Blob) || !file.type.startsWith("image/") || file.size <= PHOTO_BYTES) return file;
    try {
      const picture = await createImageBitmap(file);
      const scale = Math.min(1, PHOTO_PX / Math.max(picture.width, picture.height));
      const canvas = document.createElement("canvas");
      canvas.width = Math.round(picture.width * scale);
      canvas.height = Math.round(picture.height * scale);
      canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
      picture.close();
      const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.85));
      return blob && blob.size < file.size ? new File([blob], file.name || "photo.jpg", { type: "image/jpeg" }) : file;
    } catch {
      return file;
    }
  };

  const made = async (entry) => {
    const fields = [];
    for (const [name, value] of entry.fields) fields.push([name, await smaller(value)]);
    return { ...entry, fields, small: true };
  };

  const put = async ({ url, fields, says = "", group = "", go = false }) => {
    const empty = (value) => value instanceof Blob && !value.size;
    const kept = fields.filter(([name, value]) => name !== "csrfmiddlewaretoken" && name !== "once" && !empty(value));
    // Kept first, and its pictures made smaller after: a page may be closed at any moment.
    const entry = await add({
      key: newKey(), who: ME, name: box.dataset.name, url, fields: kept, says, group, go,
      at: new Date().toISOString(), state: "waiting", told: null, small: !kept.some(([, value]) => value instanceof Blob),
    });
    putHere.add(entry.key);
    announce("kept", { entry });
    changed();
    drain();
    return entry;
  };

  // sending ------------------------------------------------------------------------------------------------------

  const timed = async (url, ms, options = {}) => {
    const stop = new AbortController();
    const clock = window.setTimeout(() => stop.abort(), ms);
    try {
      return await fetch(url, { cache: "no-store", credentials: "same-origin", ...options, signal: stop.signal });
    } catch {
      return null;
    } finally {
      window.clearTimeout(clock);
    }
  };

  const ask = async () => {
    const answer = await timed(box.dataset.ask, ASK_MS);
    if (!answer || !answer.ok) return null;
    return answer.json().catch(() => null);
  };

  const REFUSED = new Map([
    [400, "The desk could not read it."],
    [403, "Your role does not let you do this."],
    [404, "What it belongs to is no longer there."],
    [405, "The desk does not take it at this address."],
    [413, "It is too large for the desk."],
  ]);

  const FAILED = `The desk failed at it ${MOST_TRIES} times. It is kept here; tell who looks after the desk.`;

  const GONE = "This device can no longer read the picture; take it again.";

  const park = async (entry, state, told) => {
    await write({ ...entry, state, told, tries: 0 });
    announce("parked", { entry, answer: told });
    return "parked";
  };

  const readable = (entry) => Promise.all(
    entry.fields.filter(([, value]) => value instanceof Blob).map(([, value]) => value.slice(0, 1).arrayBuffer()),
  ).then(() => true, () => false);

  const send = async (given, token) => {
    const entry = given.small ? given : await made(given);
    if (!given.small) await write(entry).catch(() => {});
    if (!await readable(entry)) return park(entry, "refused", { says: GONE });
    const body = new FormData();
    for (const [name, value] of entry.fields) {
      if (value instanceof Blob) body.append(name, value, value.name || "photo.jpg");
      else body.append(name, value);
    }
    if (!entry.fields.some(([name]) => name === "written")) body.append("written", entry.at);
    const bytes = entry.fields.reduce((sum, [, value]) => sum + (value.size || 0), 0);
    const answer = await timed(entry.url, SEND_MS + bytes / SLOWEST_BYTES_A_MS, {
      method: "POST",
      body,
      redirect: "manual",
      headers: { "X-CSRFToken": token, "X-Once-Key": entry.key, Accept: "application/json" },
    });
    if (!answer) return "lost";
    const ours = answer.headers.get("X-Once") === entry.key;
    if (!ours && answer.status >= 500 && (entry.tries || 0) + 1 < MOST_TRIES) {
      await write({ ...entry, tries: (entry.tries || 0) + 1 });
      return "lost";
    }
    if (!ours && answer.status < 500 && !REFUSED.has(answer.status)) return "lost";
    const told = ours ? await answer.json().catch(() => null) : { says: REFUSED.get(answer.status) || FAILED };
    if (!told) return "lost";
    if (ours && answer.ok) {
      await remove(entry);
      sentSome = true;
      announce("taken", { entry, answer: told });
      // Nobody is taken away from another page by what this one sent long ago.
      const before = told.go && new URL(told.go, window.location.href).pathname === window.location.pathname;
      if (entry.go && told.go && (putHere.has(entry.key) || before)) window.location.assign(told.go);
      return "taken";
    }
    return park(entry, answer.status === 409 ? "conflict" : "refused", told);
  };

  // In order within a group and between a group and those above it; else words go before pictures, which take long.
  const above = (one, other) => one && other && (one === other || other.startsWith(`${one} `));
  const nextOf = (waiting) => {
    const free = waiting.filter((entry, n) => !waiting.slice(0, n).some(
      (each) => above(each.group, entry.group) || above(entry.group, each.group),
    ));
    return free.find((entry) => !entry.fields.some(([, value]) => value instanceof Blob)) || free[0];
  };

  const round = async () => {
    for (;;) {
      const mine = (await entries()).filter((entry) => entry.who === ME);
      const stopped = new Set(mine.filter((entry) => entry.state !== "waiting").map((entry) => entry.group));
      const held = ({ group }) => group && [...stopped].some((each) => each === group || each.startsWith(`${group} `));
      const next = nextOf(mine.filter((entry) => entry.state === "waiting" && !held(entry)));
      if (!next) return true;
      show();
      const desk = await ask();
      unanswered = !desk;
      signedOut = Boolean(desk) && desk.who !== ME;
      if (!desk || signedOut) return false;
      if ((await send(next, desk.token)) === "lost") {
        unanswered = true;
        return false;
      }
      wait = FIRST_WAIT_MS;
      changed();
    }
  };

  const drain = async () => {
    window.clearTimeout(timer);
    if (sending) {
      more = true;
      return;
    }
    sending = true;
    let done = false;
    try {
      done = await round();
    } finally {
      sending = false;
      if (more) {
        more = false;
        drain();
      } else if (!done) {
        timer = window.setTimeout(drain, wait);
        wait = Math.min(2 * wait, MOST_WAIT_MS);
      }
      changed();
    }
  };

  const soon = () => {
    wait = FIRST_WAIT_MS;
    drain();
  };

  const drop = async (entry) => {
    await remove(entry);
    announce("dropped", { entry, answer: entry.told });
    changed();
    soon();
  };

  // what the person sees -----------------------------------------------------------------------------------------

  const many = (n) => (n === 1 ? "1 entry waits" : `${n} entries wait`);

  const line = (waiting) => {
    if (loose.some((entry) => entry.state === "waiting")) {
      const why = signedOut ? " You are signed out: sign in in a second tab." : unanswered ? " The desk does not answer." : "";
      return `${many(waiting)} to be sent.${why} This device does not keep them: its storage is full, or the browser allows none. Leave this page open until they are sent.`;
    }
    if (!waiting) return sentSome ? "All sent." : "";
    if (signedOut) return `${many(waiting)} on this device. You are signed out: sign in again and they are sent. Nothing is lost.`;
    if (unanswered) return `${many(waiting)} to be sent. The desk does not answer; they are kept on this device and sent when it does. Nothing is lost.`;
    return `${many(waiting)} to be sent.`;
  };

  const make = (tag, words = "", name = "") => {
    const it = document.createElement(tag);
    if (words) it.textContent = words;
    if (name) it.className = name;
    return it;
  };

  const button = (words, act) => {
    const it = make("button", words, "button");
    it.type = "button";
    it.addEventListener("click", act);
    return it;
  };

  const dropping = (entry) => {
    const it = button(entry.state === "conflict" ? "Keep theirs" : "Drop it", async () => {
      if (entry.state !== "conflict" && !it.dataset.sure) {
        it.dataset.sure = "yes";
        it.textContent = "Really drop it";
        return;
      }
      await drop(entry);
    });
    return it;
  };

  const sendingAgain = (entry) => button(entry.state === "conflict" ? "Send mine all the same" : "Send it again", async () => {
    const seen = entry.told?.seen;
    const fields = seen === undefined ? entry.fields : entry.fields.map(([n, v]) => [n, n === "seen" ? String(seen) : v]);
    // The same key: what the desk refused it forgot, and what it took it does not do again.
    await write({ ...entry, fields, state: "waiting", told: null });
    changed();
    soon();
  });

  const parkedItem = (entry) => {
    const item = make("li", "", "outbox__parked");
    const told = entry.told || {};
    item.append(make("p", `${entry.says ? `${entry.says}: ` : ""}${told.says || "The desk does not take it."}`));
    if (entry.state === "conflict" && told.theirs !== undefined) {
      const both = make("dl", "", "outbox__both");
      both.append(make("dt", "Theirs"), make("dd", told.theirs), make("dt", "Yours"), make("dd", told.mine || ""));
      item.append(both);
    }
    const acts = make("p", "", "acts");
    acts.append(sendingAgain(entry), dropping(entry));
    item.append(acts);
    return item;
  };

  let drawn = "";
  const show = async () => {
    const all = await entries();
    const mine = all.filter((entry) => entry.who === ME);
    const waiting = mine.filter((entry) => entry.state === "waiting").length;
    const parked = mine.filter((entry) => entry.state !== "waiting");
    const others = all.filter((entry) => entry.who !== ME);
    const words = [line(waiting)];
    if (others.length) {
      const names = [...new Set(others.map((entry) => entry.name))].join(", ");
      words.push(`${many(others.length)} on this device for ${names} to sign in here.`);
    }
    const text = words.filter(Boolean).join(" ");
    box.hidden = !text && !parked.length;
    box.toggleAttribute("data-calm", !waiting && !parked.length && !others.length);
    if (LINE.textContent !== text) LINE.textContent = text;
    if (signedOut && waiting) {
      const link = make("a", "Sign in");
      if (loose.length) link.target = "_blank";
      link.href = `${box.dataset.signIn}?next=${encodeURIComponent(window.location.pathname)}`;
      LINE.append(" ", link);
    }
    const now = parked.map((entry) => `${entry.n} ${entry.state} ${entry.told?.seen ?? ""}`).join();
    if (now !== drawn) PARKED.replaceChildren(...parked.map(parkedItem));
    drawn = now;
  };

  const tabs = window.BroadcastChannel ? new BroadcastChannel("rubrail-outbox") : null;
  const changed = () => {
    tabs?.postMessage("changed");
    return show();
  };
  if (tabs) tabs.onmessage = show;

  const announce = (what, detail) => document.dispatchEvent(new CustomEvent(`outbox:${what}`, { detail }));

  // forms --------------------------------------------------------------------------------------------------------

  document.addEventListener("submit", async (event) => {
    const form = event.target.closest("form[data-outbox]");
    if (!form || event.defaultPrevented) return;
    event.preventDefault();
    const pressed = event.submitter;
    const fields = [...new FormData(form)];
    if (pressed?.name) fields.push([pressed.name, pressed.value]);
    if (pressed) pressed.disabled = true;
    try {
      await put({
        url: pressed?.getAttribute("formaction") || form.getAttribute("action") || window.location.pathname,
        fields,
        says: form.dataset.outboxSays || "",
        group: form.dataset.outbox,
        go: "outboxGo" in form.dataset,
      });
      if ("outboxReset" in form.dataset) form.reset();
    } finally {
      if (pressed) pressed.disabled = false;
    }
  });

  window.addEventListener("online", soon);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) soon(); });
  window.addEventListener("pageshow", (event) => { if (event.persisted) soon(); });

  window.addEventListener("beforeunload", (event) => { if (loose.length) event.preventDefault(); });

  window.rubrailOutbox = { put, drop, entries: async () => (await entries()).filter((entry) => entry.who === ME) };
  document.dispatchEvent(new CustomEvent("outbox:ready"));
  show();
  drain();
})();
