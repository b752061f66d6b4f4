// The page a haul is entered on: what it begins from, and pieces added or taken away, without leaving the page.
"use strict";

(() => {
  const form = document.getElementById("haul-form");
  if (!form || !window.fetch || !window.htmx) return;

  // The page itself answers; only its fields are put in place, and one stays where one was.
  const again = (name, value) => {
    const here = document.activeElement?.id;
    window.htmx
      .ajax("POST", window.location.pathname + window.location.search, {
        source: form,
        target: "#fields",
        select: "#fields",
        swap: "outerHTML",
        values: { [name]: value },
      })
      .then(() => {
        document.body.classList.add("scripted");
        const next = here && document.getElementById(here);
        if (name === "more") form.querySelector("section:last-of-type select")?.focus();
        else next?.focus({ preventScroll: true });
      });
  };

  document.body.classList.add("scripted");

  form.addEventListener("change", (event) => {
    if (event.target.matches('select[name$=":from"]')) again("again", "yes");
  });

  form.addEventListener("click", (event) => {
    const button = event.target.closest("[data-again]");
    if (!button) return;
    event.preventDefault();
    again(button.name, button.value);
  });
})();
