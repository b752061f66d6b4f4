// Copies a listing's text. Without it one selects the text and copies by hand.
"use strict";

(() => {
  const said = document.getElementById("said");

  // Browsers give the clipboard only to pages under https or of the machine itself; elsewhere the old way is left.
  async function copy(text) {
    if (navigator.clipboard && window.isSecureContext) return navigator.clipboard.writeText(text);
    const field = document.createElement("textarea");
    field.value = text;
    field.setAttribute("readonly", "");
    field.className = "hush";
    document.body.append(field);
    field.select();
    const done = document.execCommand("copy");
    field.remove();
    if (!done) throw new Error("not copied");
  }

  document.querySelectorAll("[data-copy]").forEach((button) => {
    const words = button.textContent;
    button.hidden = false;
    button.addEventListener("click", async () => {
      let told = "Copied";
      try {
        await copy(document.getElementById(button.dataset.copy).textContent);
      } catch {
        told = "Not copied: open the text below and copy it by hand";
      }
      button.textContent = told;
      if (said) said.textContent = `${told}.`;
      setTimeout(() => { button.textContent = words; }, 4000);
    });
  });
})();
