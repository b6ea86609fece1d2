"use strict";
// Keeps the program on the device. Made at build time: the list names every file with its SHA-256.
//
// Everything is answered from this version's own cache, the network is asked for nothing that is ours.
// A newer version is fetched whole, checked, and waits until a person lets it start ('go'). The version
// before this one is kept: rescue.html can go back to it when this one does not start.

const kVersion = "@VERSION@";
const kFiles = @FILES@;
const kMine = `steepbook-${kVersion}`;
const kNotes = "steepbook-notes";      // Which version came before, which one to serve.
const kShared = "steepbook-shared";    // Files from the share sheet, until the page takes them (boot.js).
const kTypes = {html: "text/html; charset=utf-8", js: "text/javascript", css: "text/css", wasm: "application/wasm",
                webmanifest: "application/manifest+json", png: "image/png"};

const hex = buffer => Array.from(new Uint8Array(buffer), b => b.toString(16).padStart(2, "0")).join("");
const at = path => new URL(path, registration.scope).href;
const note = async name => {
  const found = await (await caches.open(kNotes)).match(at(`note/${name}`));
  return found ? found.text() : "";
};
const setNote = async (name, text) => (await caches.open(kNotes)).put(at(`note/${name}`), new Response(text));

async function fetchWhole([path, sum]) {
  // Files with their sum in the name may come from the browser's own cache: the first visit has them there.
  for (const cache of ["default", "reload"]) {
    const answer = await fetch(at(path), {cache, credentials: "same-origin"});
    if (!answer.ok) continue;
    const bytes = await answer.arrayBuffer();
    if (hex(await crypto.subtle.digest("SHA-256", bytes)) !== sum) continue;
    return new Response(bytes, {headers: {"Content-Type": kTypes[path.split(".").pop()] || "application/octet-stream"}});
  }
  throw new Error(`not as built: ${path}`);
}

async function fetchMissing() {
  const cache = await caches.open(kMine);
  for (const file of kFiles) {
    if (!(await cache.match(at(file[0])))) await cache.put(at(file[0]), await fetchWhole(file));
  }
}

self.addEventListener("install", event => event.waitUntil(fetchMissing()));

self.addEventListener("activate", event => event.waitUntil((async () => {
  const current = await note("current");
  if (current !== kVersion) {
    await setNote("before", (await note("serve")) || current);   // The one that ran last, not one that would not start.
    await setNote("current", kVersion);
    await setNote("serve", "");
  }
  const before = await note("before");
  for (const name of await caches.keys()) {
    if (name.startsWith("steepbook-") && ![kMine, `steepbook-${before}`, kNotes, kShared].includes(name)) await caches.delete(name);
  }
  await clients.claim();
})()));

async function isComplete() {
  const cache = await caches.open(kMine);
  for (const [path] of kFiles) if (!(await cache.match(at(path)))) return false;
  return true;
}

self.addEventListener("message", event => {
  const tell = answer => event.source && event.source.postMessage(answer);
  event.waitUntil((async () => {
    switch (event.data) {
      case "go": await self.skipWaiting(); break;
      case "complete?":   // A browser that needed room may have taken some of it.
        if (!(await isComplete())) await fetchMissing().catch(() => {});
        tell({complete: await isComplete()});
        break;
      case "before?": tell({before: await note("before"), serving: (await note("serve")) || kVersion}); break;
      case "use-before": await setNote("serve", await note("before")); tell({done: true}); break;
      case "use-this": await setNote("serve", ""); tell({done: true}); break;
    }
  })());
});

async function takeShared(request) {
  const shared = await caches.open(kShared);
  for (const file of (await request.formData()).getAll("file")) {
    if (file.name === undefined) continue;
    const headers = {"Content-Type": file.type || "application/octet-stream", "X-Name": encodeURIComponent(file.name)};
    // Each has a place of its own: one that came before and still waits is not written over.
    await shared.put(at(`shared-file/${Date.now()}-${crypto.randomUUID()}`), new Response(file, {headers}));
  }
  return Response.redirect(at("./?shared"), 303);
}

async function answer(request) {
  const url = new URL(request.url), scope = new URL(registration.scope);
  const path = url.pathname.slice(scope.pathname.length);
  if (request.method === "POST" && path === "take-shared") return takeShared(request);
  const serve = (await note("serve")) || kVersion;
  const name = path === "" ? "index.html" : path;
  const found = await (await caches.open(`steepbook-${serve}`)).match(at(name)) || await (await caches.open(kMine)).match(at(name));
  if (found) return found;
  // A page of ours with an old name (from the version before, still open) is not in this cache.
  return (await caches.match(at(name))) || fetch(request);
}

self.addEventListener("fetch", event => {
  const request = event.request;
  if (!request.url.startsWith(registration.scope)) return;
  // A cache that cannot be read must not stand between the page and a server that is there.
  event.respondWith(request.method === "POST" ? answer(request) : answer(request).catch(() => fetch(request)));
});
