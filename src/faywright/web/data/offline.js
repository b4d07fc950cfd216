"use strict";

// Keeps the last copy of the setups, and of the files they need, for when there is no connection.
// The network comes first, always: a copy is only shown when nothing else answers. Signing out,
// or being asked to sign in, throws the copies away.

const COPIES = "faywright copies";
const MOST = 40;

const isSetups = (url) => /^\/pieces\/\d+\/(setups|joints\/\d+\/trial)$/.test(url.pathname);
const isFile = (url) => url.pathname.startsWith("/static/") || url.pathname === "/drawing.css";
const isSigning = (url) => /^\/sign-(in|out)$/.test(url.pathname);

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (url.origin !== location.origin) return;
  if (isSigning(url)) {
    event.waitUntil(caches.delete(COPIES));
    return;
  }
  if (event.request.method !== "GET" || event.request.headers.has("X-Unsent")) return;
  if (isSetups(url) || isFile(url)) event.respondWith(answer(event.request));
});

// A page that was open before this worker was asks for its own copy, and for what it needs.
self.addEventListener("message", (event) => {
  const wanted = event.data.map((each) => new URL(each, location.origin));
  const ours = wanted.filter((each) => each.origin === location.origin);
  const fit = ours.filter((each) => isSetups(each) || isFile(each));
  event.waitUntil(Promise.allSettled(fit.map((each) => answer(new Request(each)))));
});

const answer = async (request) => {
  try {
    const fresh = await fetch(request);
    if (fresh.redirected && isSigning(new URL(fresh.url))) await caches.delete(COPIES);
    else if (fresh.ok) await keep(request, fresh.clone());
    return fresh;
  } catch (error) {
    const copies = await caches.open(COPIES);
    const copy = await copies.match(request, { ignoreVary: true });
    const plain = request.mode === "navigate" ? new URL(request.url).pathname : request;
    const found = copy ?? (await copies.match(plain, { ignoreVary: true }));
    if (!found) throw error;
    return found;
  }
};

// The oldest go when there are too many.
const keep = async (request, fresh) => {
  const copies = await caches.open(COPIES);
  await copies.delete(request, { ignoreVary: true });
  await copies.put(request, fresh);
  const keys = await copies.keys();
  for (const key of keys.slice(0, Math.max(0, keys.length - MOST))) await copies.delete(key);
};
