// A hand-over: once the desk took a line, the rig is weighed again and the page says how it stands now.
"use strict";

(() => {
  const list = document.getElementById("lines");
  if (!list || !document.getElementById("weighed")) return;
  const mine = (entry) => entry.group.split(" ").slice(0, 2).join(" ") === `check ${list.dataset.check}`;

  let asked = 0;
  const again = async () => {
    const turn = ++asked;
    const text = await fetch("weighed/", { cache: "no-store" }).then((r) => (r.ok ? r.text() : "")).catch(() => "");
    if (!text || turn !== asked) return;
    const holder = document.createElement("template");
    holder.innerHTML = text;
    const fresh = holder.content.firstElementChild;
    const here = document.getElementById("weighed");
    const open = [...here.querySelectorAll("details")].map((fold) => fold.open);
    [...fresh.querySelectorAll("details")].forEach((fold, n) => { fold.open = open[n] ?? false; });
    here.replaceWith(fresh);
  };

  document.addEventListener("outbox:taken", ({ detail }) => {
    if (mine(detail.entry) && detail.entry.fields.some(([name]) => name === "line")) again();
  });
})();
