"use strict";

// What is typed into a form and not yet sent is kept on this tablet: a screen that sleeps, a
// reload or a dead battery must not cost a reading. It goes once it was sent.
//
// Forms say so themselves: <form data-keep="trial">. A page of its own keeps one of each.

(() => {
  const PREFIX = "faywright typed ";
  const OLD = 14 * 24 * 3600 * 1000; // ms; what is older is of another piece of wood

  const keyOf = (form) => `${PREFIX}${location.pathname} ${form.dataset.keep}`;

  const fields = (form) =>
    [...form.elements].filter((each) => each.name && !["hidden", "submit"].includes(each.type));

  const keep = (form) => {
    const values = {};
    for (const each of fields(form)) {
      const ticked = each.type === "checkbox" || each.type === "radio";
      if (ticked ? each.checked : each.value) values[each.name] = each.value;
    }
    if (Object.keys(values).length) {
      localStorage.setItem(keyOf(form), JSON.stringify({ at: Date.now(), values }));
    } else {
      localStorage.removeItem(keyOf(form));
    }
  };

  // Only an empty form is filled in again: what the server sends back stands.
  const restore = (form) => {
    if (form.dataset.filled) return;
    form.dataset.filled = "yes";
    const kept = JSON.parse(localStorage.getItem(keyOf(form)) ?? "null");
    if (!kept || Date.now() - kept.at > OLD) return;
    fill(form, kept.values);
    form.querySelector(".kept").textContent = "As you had typed it, not sent yet.";
  };

  const fill = (form, values) => {
    for (const each of fields(form)) {
      if (!(each.name in values)) continue;
      if (each.type === "checkbox" || each.type === "radio") {
        each.checked = each.value === values[each.name];
      } else if (!each.value) {
        each.value = values[each.name];
      } else continue;
      each.closest("details")?.setAttribute("open", "");
    }
  };

  const forms = () => document.querySelectorAll("form[data-keep]");
  const ready = () => { for (const form of forms()) restore(form); };

  const changed = (event) => {
    const form = event.target.form;
    if (form?.dataset.keep) keep(form);
  };
  document.addEventListener("input", changed);
  document.addEventListener("change", changed);
  document.addEventListener("DOMContentLoaded", ready);

  // Sent, or kept to be sent: then it is not to be typed again.
  const gone = (form) => localStorage.removeItem(keyOf(form));
  document.addEventListener("htmx:beforeSwap", (event) => {
    const form = event.detail.requestConfig?.elt;
    if (form?.dataset?.keep && event.detail.xhr.status < 400) gone(form);
  });
  document.addEventListener("faywright:kept", (event) => {
    if (event.target.dataset?.keep) gone(event.target);
  });
  document.addEventListener("htmx:afterSettle", ready);
})();
