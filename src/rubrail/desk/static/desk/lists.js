// What a column of a list means: offer only the units that suit, and say so when a name means nothing.
"use strict";

(() => {
  const form = document.querySelector("[data-lists]");
  if (!form) return;
  const units = new Map();
  for (const option of document.querySelectorAll("#ours option")) {
    units.set(option.value.toLowerCase(), option.dataset.units.split(" ").filter(Boolean));
  }

  function suit(input) {
    const select = form.elements[input.name.replace("column-", "unit-")];
    const known = units.get(input.value.trim().toLowerCase());
    const cell = select.closest("td");
    // A name that is not in the list may still be one the desk knows: then every unit stays to choose.
    const bare = !input.value.trim() || (known && known.length === 0);
    cell.hidden = bare;
    if (!known || bare) return;
    for (const option of select.options) {
      const suits = !option.value || (known.includes(option.value) && option.value !== known[0]);
      option.hidden = option.disabled = !suits;
    }
    select.options[0].textContent = known[0];
    if (select.selectedOptions[0]?.disabled) select.value = "";
  }

  for (const input of form.querySelectorAll("[name^=column-]")) {
    suit(input);
    input.addEventListener("input", () => suit(input));
  }
})();
