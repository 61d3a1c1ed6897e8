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

document.querySelector(".mistakes")?.focus();
