// A form whose entry the desk did not take from the outbox is shown as it was written, to be put right and sent anew; what
// is sent anew takes the place of what was refused. Photos cannot be put back into a form: an entry with any waits as it is.
"use strict";

(() => {
  const path = (url) => new URL(url, window.location.href).pathname;
  const formOf = (entry) => [...document.querySelectorAll("form[data-again]")].find(
    (form) => path(form.getAttribute("action") || window.location.href) === path(entry.url),
  );

  // Somebody else's entry that stands against one's own is for the person to choose; over a signature there is no choice.
  const comes = (entry) => {
    const form = entry.state === "waiting" ? null : formOf(entry);
    const whole = !entry.fields.some(([, value]) => value instanceof Blob);
    return form && whole && (entry.state === "refused" || form.querySelector("[data-signature]"));
  };
  const refused = async () => (await window.rubrailOutbox.entries()).filter(comes);

  // What the form says of the page as it stands now, such as versions, stays.
  const put = (form, fields) => {
    const sent = (name) => fields.filter(([each]) => each === name).map(([, value]) => value);
    for (const input of form.elements) {
      const told = input.type !== "hidden" || "strokes" in input.dataset || input.name === "measures";
      if (!input.name || !told || input.type === "submit") continue;
      if (input.type === "checkbox" || input.type === "radio") input.checked = sent(input.name).includes(input.value);
      else if (sent(input.name).length) input.value = sent(input.name)[0];
      input.dispatchEvent(new Event("again:put"));
    }
  };

  const again = async () => {
    const entry = (await refused()).at(-1);
    if (!entry) return;
    const form = formOf(entry);
    put(form, entry.fields);
    // It goes the way it came, so that it takes the place of the one that waits.
    form.dataset.outbox = entry.group;
    delete form.dataset.offline;
  };
  if (window.rubrailOutbox) again();
  else document.addEventListener("outbox:ready", again);

  document.addEventListener("outbox:kept", async ({ detail }) => {
    const form = formOf(detail.entry);
    if (!form) return;
    for (const entry of await refused()) {
      if (formOf(entry) === form && entry.key !== detail.entry.key) await window.rubrailOutbox.drop(entry);
    }
  });
})();
