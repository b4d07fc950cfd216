"use strict";

// Moments are told in the tablet's own time; pages have them in UTC, as they are kept.

(() => {
  const tell = () => {
    for (const time of document.querySelectorAll("time[datetime]:not([title])")) {
      time.title = time.textContent;
      const at = new Date(time.dateTime);
      time.textContent = at.toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
    }
  };
  document.addEventListener("DOMContentLoaded", tell);
  document.addEventListener("htmx:afterSettle", tell);
})();
