// The desk's one script. Pages work without it; it saves steps.
"use strict";

(() => {
  const SEARCH = "[data-search]";

  // "/" goes to the page's search, unless one is writing already.
  document.addEventListener("keydown", (event) => {
    const writing = event.target.closest("input, textarea, select, [contenteditable]");
    const search = document.querySelector(SEARCH);
    if (event.key === "/" && !writing && search && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      search.focus();
      search.select();
    }
  });

  // Take what somebody else saved into one's own form.
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-put]");
    if (!button) return;
    const form = document.querySelector("[data-guard]");
    const field = form && form.elements[button.dataset.name];
    if (!field) return;
    field.value = button.dataset.put;
    const shown = field instanceof Element ? field : field[0];
    shown.closest("details")?.setAttribute("open", "");
    shown.dispatchEvent(new Event("input", { bubbles: true }));
    button.textContent = "Taken";
    button.disabled = true;
    say(`${button.dataset.field}: ${button.dataset.put || "not known"} taken into the form.`);
  });

  // A form with something in it is not left by accident.
  const guarded = document.querySelector("[data-guard]");
  if (guarded) {
    let changed = guarded.hasAttribute("data-changed");
    guarded.addEventListener("input", () => { changed = true; });
    guarded.addEventListener("submit", () => { changed = false; });
    window.addEventListener("beforeunload", (event) => {
      if (changed) event.preventDefault();
    });
  }

  // After a form came back with faults, one is at the first of them.
  const fault = document.querySelector('main [aria-invalid="true"]');
  if (fault) {
    fault.closest("details")?.setAttribute("open", "");
    fault.focus();
  }

  // What the list holds now is said aloud after it was filtered.
  document.addEventListener("htmx:afterSwap", (event) => {
    const told = event.target.querySelector?.("[data-says]");
    if (told) say(told.dataset.says);
    // A field that says what the list has become: set, not swapped, so that whoever is in it stays there.
    event.target.querySelectorAll?.("[data-sets]").forEach((set) => {
      const field = document.getElementById(set.dataset.sets);
      if (field) field.value = set.dataset.value;
    });
  });

  // What only folds a part of a form open asks the desk for nothing.
  document.addEventListener("change", (event) => {
    if (event.target.matches("[data-quiet]")) event.stopPropagation();
  }, true);

  // The yard's far corner has bad reception: say so instead of doing nothing.
  const lost = () => {
    const box = document.getElementById("lost");
    if (box) box.hidden = false;
  };
  const found = () => {
    const box = document.getElementById("lost");
    if (box) box.hidden = true;
  };
  document.addEventListener("htmx:sendError", lost);
  document.addEventListener("htmx:timeout", lost);
  document.addEventListener("htmx:responseError", lost);
  document.addEventListener("htmx:afterOnLoad", found);

  function say(words) {
    const box = document.getElementById("said");
    if (box) box.textContent = words;
  }
})();
