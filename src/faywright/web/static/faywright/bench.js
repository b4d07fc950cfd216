"use strict";

// Cards at the machine: from one to the next by key, by the bar below or by pushing them, and a
// screen that stays on. Without it the cards stand side by side, with links from each to the next.

(() => {
  const byId = (id) => document.getElementById(id);

  // From card to card

  let current = null;

  const cards = () => [...document.querySelectorAll(".deck > .card")];

  const link = (anchor, card) => {
    if (card) anchor.href = `#${card.id}`;
    else anchor.removeAttribute("href");
  };

  // The bar says where one is; the address does too, so that a reload comes back to this card.
  const stand = (card) => {
    if (card === current) return;
    current = card;
    const all = cards();
    const bar = document.querySelector(".turn");
    const at = all.indexOf(card);
    link(bar.querySelector(".before"), all[at - 1]);
    link(bar.querySelector(".next"), all[at + 1]);
    bar.querySelector(".at").textContent = `${card.dataset.number} of ${all.length}`;
  };

  const turn = (by) => {
    const all = cards();
    const to = all[all.indexOf(current) + by];
    if (to) location.hash = to.id;
  };

  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (event.target.closest("input, textarea, select")) return;
    const by = { ArrowLeft: -1, ArrowRight: 1, PageUp: -1, PageDown: 1 }[event.key];
    if (!by || !current) return;
    event.preventDefault();
    turn(by);
  });

  const deal = () => {
    const deck = document.querySelector(".deck");
    if (!deck || deck.classList.contains("turned") || !cards().length) return;
    deck.classList.add("turned");
    document.querySelector(".turn").hidden = false;
    // Whichever card fills most of the deck is the one that is stood before.
    const watch = new IntersectionObserver(
      (seen) => {
        for (const each of seen) {
          if (each.intersectionRatio < 0.6) continue;
          stand(each.target);
          if (pushed) history.replaceState(history.state, "", `#${each.target.id}`);
        }
      },
      { root: deck, threshold: 0.6, rootMargin: "10000px 0px" },
    );
    let pushed = false;
    deck.addEventListener("scroll", () => { pushed = true; }, { passive: true });
    for (const card of cards()) watch.observe(card);
    stand(cards()[0]);
    if (location.hash) byId(location.hash.slice(1))?.scrollIntoView();
  };

  const count = () => {
    const made = byId("made");
    if (made) made.textContent = document.querySelectorAll(".tick[data-made='yes']").length;
    const next = document.querySelector(".tick[data-made='no']")?.closest(".card");
    const link = document.querySelector(".go-on");
    if (!next || !link) return;
    link.href = `#${next.id}`;
    link.textContent = `go on with setup ${next.dataset.number}`;
  };

  document.addEventListener("DOMContentLoaded", deal);
  document.addEventListener("htmx:afterSettle", () => {
    deal();
    count();
  });

  // A plan that cannot be made is told where its cards would have been, whatever went wrong.
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target.id === "cards") event.detail.shouldSwap = true;
  });

  // A screen that stays on

  let lock = null;
  let wanted = false;

  const tell = (words) => { byId("screen").textContent = words; };

  const hold = async () => {
    try {
      lock = await navigator.wakeLock.request("screen");
      tell("The screen stays on while this page is open.");
    } catch (error) {
      tell(`The screen will go off as usual: the browser does not keep it on now (${error.name}).`);
    }
  };

  document.addEventListener("DOMContentLoaded", () => {
    const button = byId("keep-on");
    if (!button) return;
    button.hidden = false;
    if (!("wakeLock" in navigator)) {
      button.disabled = true;
      tell(window.isSecureContext
        ? "This browser cannot keep the screen on: set the tablet to stay on instead."
        : "The browser keeps the screen on only over https: set the tablet to stay on instead.");
      return;
    }
    button.setAttribute("aria-pressed", "false");
    button.addEventListener("click", async () => {
      wanted = !wanted;
      button.setAttribute("aria-pressed", String(wanted));
      if (wanted) {
        await hold();
        return;
      }
      await lock?.release();
      tell("The screen goes off as usual.");
    });
  });

  // The lock is lost whenever the page is out of sight.
  document.addEventListener("visibilitychange", () => {
    if (wanted && document.visibilityState === "visible") hold();
  });

  // Paper shows what is folded away on the screen.
  let folded = [];
  addEventListener("beforeprint", () => {
    folded = [...document.querySelectorAll(".card details:not([open])")];
    for (const each of folded) each.open = true;
  });
  addEventListener("afterprint", () => {
    for (const each of folded) each.open = false;
  });

  // A copy of this page for when there is no connection, where the browser keeps one.
  document.addEventListener("DOMContentLoaded", async () => {
    const place = byId("offline");
    if (!place) return;
    const open = "No connection is needed while this page stays open";
    if (!("serviceWorker" in navigator)) {
      place.textContent = `${open}; this browser keeps no copy of it for later.`;
      return;
    }
    try {
      await navigator.serviceWorker.register(place.dataset.script);
      const worker = (await navigator.serviceWorker.ready).active;
      const needs = [...document.querySelectorAll("script[src], link[rel='stylesheet']")];
      const page = location.href.split("#")[0];
      worker.postMessage([page, ...needs.map((each) => each.src ?? each.href)]);
      place.textContent = `${open}; this tablet keeps a copy of it for later.`;
    } catch (error) {
      place.textContent = `${open}; no copy of it is kept for later (${error.name}).`;
    }
  });
})();
