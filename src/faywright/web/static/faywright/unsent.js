"use strict";

// What could not be sent for lack of a connection is kept on this tablet and sent when there is
// one: in the order it was made, once each. Every form carries a key (submission), by which the
// server knows what had arrived after all. What the server asks about, or someone else changed
// meanwhile, waits for the maker.
//
// Only forms that may be sent twice without harm are kept: those with a submission or a base.

(() => {
  const KEPT = "faywright unsent";
  const EVERY = 15000; // ms between tries

  const read = () => JSON.parse(localStorage.getItem(KEPT) ?? "[]");
  const write = (items) => {
    localStorage.setItem(KEPT, JSON.stringify(items));
    show();
  };
  const change = (id, how) =>
    write(read().flatMap((each) => (each.id === id ? how(each) : [each])));

  const author = () => document.body.dataset.author ?? "";
  const token = (page) => JSON.parse(page.body.getAttribute("hx-headers") ?? "{}")["X-CSRFToken"];
  const say = (words) => {
    const said = document.getElementById("said");
    if (said) said.textContent = words;
  };

  const fresh = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    return [...bytes].map((each) => each.toString(16).padStart(2, "0")).join("");
  };

  // Keeping

  document.addEventListener("htmx:sendError", (event) => {
    const { requestConfig, elt } = event.detail;
    if (requestConfig.verb !== "post") return;
    const body = new URLSearchParams(requestConfig.formData);
    if (!body.has("submission") && !body.has("base")) {
      say("Not sent: no connection. Try again when there is one.");
      return;
    }
    const form = elt.closest("form") ?? elt;
    keep(form, requestConfig.path, body);
  });

  const keep = (form, action, body) => {
    body.delete("csrfmiddlewaretoken");
    const item = {
      id: body.get("submission") ?? fresh(),
      at: Date.now(),
      who: author(),
      page: location.pathname,
      form: form.id,
      action: new URL(action, location.href).pathname,
      body: body.toString(),
      what: form.dataset.what ?? "A change",
      state: "waits",
    };
    try {
      write([...read().filter((each) => each.id !== item.id), item]);
    } catch {
      say("Not sent: no connection. This tablet has no room to keep it: leave the page open.");
      return;
    }
    say(`Not sent yet: no connection. Kept on this tablet. ${item.what}.`);
    mark(item);
    form.dispatchEvent(new CustomEvent("faywright:kept", { bubbles: true }));
    // The next thing that is typed into this form is another.
    const key = form.querySelector?.("input[name='submission']");
    if (key && form.dataset.keep) key.value = fresh();
  };

  const mark = (item) => {
    const form = document.getElementById(item.form);
    const place = item.page === location.pathname ? form?.querySelector(".kept") : null;
    if (place) place.textContent = `${item.what}: not sent yet.`;
  };

  // Sending

  let busy = false;

  const send = async () => {
    if (busy || !read().some((each) => each.state === "waits" && each.who === author())) return;
    busy = true;
    try {
      for (const item of read()) {
        if (item.state === "waits" && item.who === author() && !(await sent(item))) break;
      }
    } finally {
      busy = false;
    }
  };

  // Whether to go on with the next: not where there is no connection still.
  const sent = async (item) => {
    let answer;
    try {
      const current = await page(item.page);
      if (!current) return false;
      answer = await fetch(item.action, {
        method: "POST",
        body: item.body,
        redirect: "follow",
        headers: {
          "Content-Type": "application/x-www-form-urlencoded",
          "HX-Request": "true",
          "X-CSRFToken": token(current),
        },
      });
    } catch {
      return false; // no connection yet: it stays as it is
    }
    if (answer.status >= 500 || answer.status === 403) {
      show(`The shop’s computer could not take it (${answer.status}). It is tried again.`);
      return false;
    }
    if (answer.ok) arrived(item, answer, await answer.text());
    else change(item.id, (each) => [{ ...each, state: "asks", status: answer.status }]);
    return true;
  };

  // The page as it is now: with the token of this sign-in, or none if one has to sign in first.
  const page = async (path) => {
    const answer = await fetch(path, { cache: "no-store", headers: { "X-Unsent": "yes" } });
    if (answer.redirected && new URL(answer.url).pathname !== path) {
      show("Sign in, and what is kept here is sent.");
      return null;
    }
    if (answer.headers.get("X-Offline")) return null;
    return new DOMParser().parseFromString(await answer.text(), "text/html");
  };

  const arrived = (item, answer, text) => {
    change(item.id, () => []);
    const told = JSON.parse(answer.headers.get("HX-Trigger") ?? "{}").said ?? "";
    say(`Sent: ${item.what}. ${told}`);
    const form = document.getElementById(item.form);
    if (item.page !== location.pathname || !form) return;
    const anew = new DOMParser().parseFromString(text, "text/html").getElementById(item.form);
    if (anew && !form.dataset.keep) { // what it looks like now that it has arrived
      form.replaceWith(anew);
      htmx.process(anew);
      return;
    }
    const place = form.querySelector(".kept");
    if (place) place.textContent = `${item.what}: sent.`;
    const address = answer.headers.get("HX-Push-Url");
    if (!address || !place) return;
    const link = document.createElement("a");
    link.href = address;
    link.textContent = "Look at the answer";
    place.append(" ", link);
  };

  // What is kept, in words

  const show = (first = "") => {
    const place = document.getElementById("unsent");
    if (!place) return;
    const items = read();
    const waits = items.filter((each) => each.state === "waits");
    const lines = first ? [line(first)] : [];
    if (waits.length) {
      const what = waits.map((each) => each.what).join("; ");
      lines.push(line(`Not sent yet: no connection. Kept on this tablet: ${what}.`));
    }
    for (const item of items.filter((each) => each.state === "asks")) lines.push(asks(item));
    place.replaceChildren(...lines);
  };

  const line = (words) => {
    const told = document.createElement("p");
    told.textContent = words;
    return told;
  };

  const asks = (item) => {
    const told = line(`${item.what}: ${item.status === 409 ? "someone changed the piece" : "it was asked about"}. `);
    const look = document.createElement("button");
    look.type = "button";
    look.textContent = "Look at it";
    look.addEventListener("click", () => again(item));
    const drop = document.createElement("button");
    drop.type = "button";
    drop.textContent = "Throw it away";
    drop.addEventListener("click", () => change(item.id, () => []));
    told.append(look, " ", drop);
    return told;
  };

  // Sent once more before the maker's eyes, so that the questions or both values are shown.
  const again = (item) => {
    if (item.page !== location.pathname) {
      sessionStorage.setItem(KEPT, item.id);
      location.assign(item.page);
      return;
    }
    const form = document.getElementById(item.form) ?? document.querySelector("main");
    const target = form.getAttribute("hx-target") ?? form;
    const values = {};
    for (const [name, value] of new URLSearchParams(item.body)) {
      values[name] = name in values ? [].concat(values[name], value) : value;
    }
    change(item.id, () => []);
    htmx.ajax("POST", item.action, {
      source: form,
      target,
      values,
      swap: form.getAttribute("hx-swap") ?? "outerHTML",
    });
  };

  addEventListener("online", send);
  addEventListener("storage", (event) => { if (event.key === KEPT) show(); });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") send();
  });
  setInterval(send, EVERY);
  document.addEventListener("DOMContentLoaded", () => {
    show();
    for (const item of read()) mark(item);
    const looked = read().find((each) => each.id === sessionStorage.getItem(KEPT));
    sessionStorage.removeItem(KEPT);
    if (looked) again(looked);
    send();
  });
})();
