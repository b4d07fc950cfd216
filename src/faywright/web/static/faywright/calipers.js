"use strict";

// Calipers that type like a keyboard send digits and then Enter. Enter goes to the next reading,
// and after the last to the button; it never sends the form from the middle of it.

(() => {
  const readings = () =>
    [...document.querySelectorAll("[data-reading]")].filter((each) => each.checkVisibility());

  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches?.("[data-reading]")) return;
    event.preventDefault();
    const all = readings();
    const next = all[all.indexOf(event.target) + 1] ?? document.getElementById("send");
    next.focus();
    next.select?.();
    next.scrollIntoView({ block: "center" });
    flash(next);
  });

  // Nobody hears a beep in the shop: what has the focus now shows it for a moment.
  const flash = (field) => {
    field.classList.remove("flash");
    requestAnimationFrame(() => field.classList.add("flash"));
  };

  // Several readings of one thing: a key of its own, for number pads have no semicolon.
  const several = (field) => {
    if (field.dataset.several) return;
    field.dataset.several = "yes";
    if (field.id.startsWith("field-set-") || field.id === "field-metres") return;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "several";
    button.textContent = "And another";
    button.setAttribute("aria-label", "Another reading of the same");
    button.addEventListener("click", () => {
      if (field.value.trim() && !/;\s*$/.test(field.value)) field.value = `${field.value.trim()}; `;
      field.focus();
      field.setSelectionRange(field.value.length, field.value.length);
    });
    field.after(button);
  };

  const ready = () => {
    for (const field of document.querySelectorAll("[data-reading]")) several(field);
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:afterSettle", ready);
})();
