// Helps only: every page works without it.
"use strict";

for (const place of document.querySelectorAll("[data-print]")) {
  place.hidden = false;
  place.querySelector("button").addEventListener("click", () => window.print());
}

for (const text of document.querySelectorAll("[data-copy]")) {
  text.addEventListener("click", () => {
    window.getSelection().selectAllChildren(text);
    navigator.clipboard?.writeText(text.textContent).catch(() => {});
  });
}

// Some browsers drop a focus given before the page is all there; it is given again, unless somebody has moved on.
const mistakes = document.querySelector(".mistakes");
if (mistakes) {
  mistakes.focus();
  addEventListener("load", () => document.activeElement === document.body && mistakes.focus());
}
