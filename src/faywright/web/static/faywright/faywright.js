"use strict";

// What every page does beyond what plain forms do. Without it all of them work the same, only
// with whole pages. Nothing is kept anywhere but where a page was scrolled to.

(() => {
  const WAIT = 300; // ms before one is told that it takes a moment
  const WORKING = "Working it out";
  const SCROLL = "scrolled";
  const ASKED = new Set(["submit", "click", "change"]);

  const said = () => document.getElementById("said");

  const say = (words) => {
    const place = said();
    if (place) place.textContent = words;
  };

  // An answer carries what was done in its header: HX-Trigger: {"said": "Groove depth is 9 mm"}
  document.addEventListener("said", (event) => say(String(event.detail?.value ?? "")));

  // Only what somebody asked for is worth a word: rows that load as they come into view are not.
  const asked = (event) => ASKED.has(event.detail.requestConfig?.triggeringEvent?.type);
  const waits = new WeakMap();

  document.addEventListener("htmx:beforeRequest", (event) => {
    const { xhr, target } = event.detail;
    if (!asked(event)) return;
    if (said()?.textContent) say("");
    const later = () => {
      target.setAttribute("aria-busy", "true");
      say(WORKING);
    };
    waits.set(xhr, setTimeout(later, WAIT));
  });

  const done = (event) => {
    const { xhr, target } = event.detail;
    if (!waits.has(xhr)) return;
    clearTimeout(waits.get(xhr));
    waits.delete(xhr);
    target.removeAttribute("aria-busy");
    if (said()?.textContent === WORKING) say("");
  };
  document.addEventListener("htmx:afterRequest", done);

  document.addEventListener("htmx:sendError", (event) => {
    if (asked(event)) say("The shop’s computer does not answer. Nothing was changed.");
  });
  document.addEventListener("htmx:responseError", (event) => {
    if (asked(event)) say(`That did not work (${event.detail.xhr.status}). Nothing was changed.`);
  });

  // After a form is sent one stands at the first of its faults. A field that is kept as one
  // leaves it does not call one back: one is in the next by now, and is only told.
  const toFault = (within) => {
    const field = within.querySelector("[aria-invalid='true']");
    const fault = field ?? within.querySelector("[role='alert']");
    if (!fault) return;
    if (!field) fault.tabIndex = -1;
    fault.focus();
  };

  document.addEventListener("htmx:afterSettle", (event) => {
    const { xhr, requestConfig, target } = event.detail;
    if (xhr?.status !== 422 || requestConfig?.verb === "get") return;
    const within = target.isConnected ? target : document;
    const by = requestConfig?.triggeringEvent?.type;
    if (by === "submit" || by === "click") toFault(within);
    if (by === "change") say(within.querySelector(".fault, [role='alert']")?.textContent.trim() ?? "");
  });

  // Boxes that can be pushed sideways can be reached by keyboard. Templates say so where they
  // know it; drawings are wider than a screen only on some.
  const reachable = () => {
    for (const box of document.querySelectorAll(".sheet, .plot")) {
      const wide = box.scrollWidth > box.clientWidth + 1;
      if (wide && !box.hasAttribute("tabindex")) box.tabIndex = 0;
    }
  };
  document.addEventListener("htmx:afterSettle", reachable);
  addEventListener("resize", reachable);

  // A plain form that comes back to its own page comes back to where it was.
  addEventListener("pagehide", () => {
    const kept = { path: location.pathname, top: scrollY, at: Date.now() };
    sessionStorage.setItem(SCROLL, JSON.stringify(kept));
  });

  addEventListener("DOMContentLoaded", () => {
    reachable();
    if (document.querySelector("[aria-invalid='true']")) {
      toFault(document);
      return;
    }
    const kept = JSON.parse(sessionStorage.getItem(SCROLL) ?? "null");
    const again = kept && kept.path === location.pathname && Date.now() - kept.at < 10000;
    if (again && !location.hash && scrollY === 0) scrollTo(0, kept.top);
  });
})();
