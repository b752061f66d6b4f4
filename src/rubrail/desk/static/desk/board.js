// Units ticked on the board stay ticked while the list is filtered, ordered and paged. Without this the form sends
// what is ticked on the page.
"use strict";

(() => {
  const LEAST = 2;

  const form = () => document.querySelector("[data-pick]");
  const key = (it) => `rubrail.pick.${it.dataset.pick}`;
  const boxes = () => [...document.querySelectorAll('input[type=checkbox][form="pick"]')];

  function read(it) {
    try {
      const kept = JSON.parse(sessionStorage.getItem(key(it)) || "[]");
      return Array.isArray(kept) ? kept.filter((n) => typeof n === "string") : [];
    } catch {
      return [];
    }
  }

  function keep(it, chosen) {
    try {
      sessionStorage.setItem(key(it), JSON.stringify(chosen));
    } catch {
      // A browser that keeps nothing forgets them with the page.
    }
    show(it, chosen);
  }

  function show(it, chosen) {
    const most = Number(it.dataset.most);
    const here = new Set();
    for (const box of boxes()) {
      box.checked = chosen.includes(box.value);
      box.disabled = !box.checked && chosen.length >= most;
      here.add(box.value);
    }
    const kept = it.querySelector("[data-pick-kept]");
    kept.replaceChildren(...chosen.filter((n) => !here.has(n)).map(hidden));
    it.querySelector("[data-pick-says]").textContent = says(chosen, most);
    it.toggleAttribute("data-some", chosen.length > 0);
    it.querySelector("[data-pick-none]").hidden = chosen.length === 0;
    it.querySelector("[data-pick-go]").disabled = chosen.length < LEAST;
  }

  function hidden(number) {
    const input = document.createElement("input");
    input.type = "hidden";
    input.name = "unit";
    input.value = number;
    return input;
  }

  function says(chosen, most) {
    if (chosen.length === 0) return `Tick two to ${most} units to see them side by side.`;
    const named = chosen.join(", ");
    if (chosen.length < LEAST) return `1 unit chosen: ${named}. Tick one more to compare.`;
    return `${chosen.length} units chosen: ${named}.${chosen.length >= most ? " That is as many as fit side by side." : ""}`;
  }

  document.addEventListener("change", (event) => {
    const it = form();
    if (!it || !event.target.matches('input[type=checkbox][form="pick"]')) return;
    const { value, checked } = event.target;
    const others = read(it).filter((n) => n !== value);
    keep(it, checked ? [...others, value] : others);
    const said = document.getElementById("said");
    if (said) said.textContent = it.querySelector("[data-pick-says]").textContent;
  });

  document.addEventListener("click", (event) => {
    const it = form();
    if (it && event.target.closest("[data-pick-none]")) keep(it, []);
  });

  // On a phone the list comes first; what narrows it opens on demand, unless something is asked for already.
  function fold() {
    const narrow = document.querySelector(".board__narrow:not([data-folded])");
    if (!narrow) return;
    narrow.setAttribute("data-folded", "");
    if (matchMedia("(max-width: 52rem)").matches && !narrow.hasAttribute("data-asked")) narrow.open = false;
  }

  const again = () => {
    fold();
    const it = form();
    if (it) show(it, read(it));
  };
  document.addEventListener("htmx:afterSettle", again);
  window.addEventListener("pageshow", again);
  again();
})();
