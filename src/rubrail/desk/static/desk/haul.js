// The page a haul is entered on: what it begins from, and pieces added or taken away, without leaving the page.
"use strict";

(() => {
  const form = document.getElementById("haul-form");
  if (!form || !window.htmx) return;

  const SETTLED_MS = 700; // Somebody typing in a select passes other choices on the way.
  let waiting = 0;
  let sent = new Map();
  let typedSince = [];
  let here = "";

  document.body.classList.add("scripted");

  const entries = () => new Map([...new FormData(form)].filter(([, value]) => typeof value === "string"));

  // The page itself answers; only its fields are put in place.
  const again = (name, value) => {
    window.clearTimeout(waiting);
    waiting = 0;
    sent = entries();
    window.htmx
      .ajax("POST", window.location.pathname + window.location.search, {
        source: form,
        target: "#fields",
        select: "#fields",
        swap: "outerHTML",
        values: { [name]: value },
      })
      .then(() => settle(name));
  };

  // What was written while the answer was on its way stays as written.
  form.addEventListener("htmx:beforeSwap", () => {
    here = document.activeElement?.id ?? "";
    typedSince = [...entries()].filter(([name, value]) => sent.get(name) !== value);
  });

  const settle = (name) => {
    for (const [field, value] of typedSince) {
      const there = form.elements[field];
      if (there instanceof Element && there.type === "checkbox") there.checked = true;
      else if (there instanceof Element && there.type !== "hidden") there.value = value;
    }
    typedSince = [];
    if (name === "more") form.querySelector('section[data-piece]:last-of-type select')?.focus();
    else if (here) document.getElementById(here)?.focus({ preventScroll: true });
  };

  const BEGINS = 'select[name$=":from"]';
  const soon = () => {
    window.clearTimeout(waiting);
    waiting = window.setTimeout(() => { waiting = 0; again("again", "yes"); }, SETTLED_MS);
  };

  form.addEventListener("change", (event) => {
    if (event.target.matches(BEGINS)) soon();
  });

  form.addEventListener("keydown", (event) => {
    if (waiting && event.target.matches(BEGINS)) soon();
  });

  form.addEventListener("click", (event) => {
    const button = event.target.closest("[data-again]");
    if (!button) return;
    event.preventDefault();
    again(button.name, button.value);
  });

  form.addEventListener("submit", () => window.clearTimeout(waiting));
})();
