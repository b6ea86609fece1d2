"use strict";
// Reads the stores that js/store.js writes, puts the pages together into the SQLite file they are, and
// hands it over. No program, no WebGL.

const kPage = 4096, kSegmentPages = 64;
const spanish = (navigator.language || "").startsWith("es");
document.documentElement.lang = spanish ? "es" : "en";

const kCrc = new Uint32Array(256).map((_, n) => {
  for (let i = 0; i < 8; ++i) n = n & 1 ? 0xedb88320 ^ (n >>> 1) : n >>> 1;
  return n >>> 0;
});
function checkSum(bytes) {   // CRC-32 of ISO 3309.
  let crc = 0xffffffff;
  for (const byte of bytes) crc = kCrc[(crc ^ byte) & 255] ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

function word(name, values) {
  const from = [...document.querySelectorAll(`[data-word=${name}]`)].find(p => (p.lang === "es") === spanish);
  return Object.entries(values || {}).reduce((text, [key, value]) => text.replace(`{${key}}`, value), from.textContent);
}

function openStores() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open("steepbook");
    request.onupgradeneeded = () => request.transaction.abort();   // There is none: don't make one.
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();   // A newer page must not have to wait for this one.
      resolve(request.result);
    };
    request.onblocked = () => reject(new Error("another window is changing it"));
    request.onerror = () => (request.error && request.error.name === "AbortError" ? resolve(null) : reject(request.error));
  });
}

// {head, parts: [[kind, number, value]]} of the book and of the safety copies.
function readBooks(db) {
  return new Promise((resolve, reject) => {
    const tx = db.transaction(["head", "page", "segment", "aside"], "readonly");
    const books = [{slot: "book", head: null, parts: []}, {slot: 0, head: null, parts: []}, {slot: 1, head: null, parts: []}];
    tx.objectStore("head").get("book").onsuccess = event => { books[0].head = event.target.result || null; };
    const each = (store, then) => {
      tx.objectStore(store).openCursor().onsuccess = event => {
        const cursor = event.target.result;
        if (!cursor) return;
        then(cursor.key, cursor.value);
        cursor.continue();
      };
    };
    for (const kind of ["page", "segment"]) each(kind, (key, value) => books[0].parts.push([kind, key, value]));
    each("aside", ([slot, kind, number], value) => {
      if (kind === "head") books[slot + 1].head = value;
      else books[slot + 1].parts.push([kind, number, value]);
    });
    tx.oncomplete = () => resolve(books.filter(book => book.head));
    tx.onabort = () => reject(tx.error || new Error("aborted"));
  });
}

function putTogether(book) {
  const file = new Uint8Array(book.head.pages * kPage), good = new Uint8Array(book.head.pages);
  const order = book.parts.sort((a, b) => (a[0] === b[0] ? 0 : a[0] === "segment" ? -1 : 1));   // Single pages overrule.
  for (const [kind, number, value] of order) {
    const first = kind === "segment" ? number * kSegmentPages : number, count = value.byteLength / (kPage + 4);
    const bytes = new Uint8Array(value), sums = new DataView(value, count * kPage);
    for (let i = 0; i < count && first + i < book.head.pages; ++i) {
      const page = bytes.subarray(i * kPage, (i + 1) * kPage);
      file.set(page, (first + i) * kPage);
      good[first + i] = checkSum(page) === sums.getUint32(4 * i, true) ? 1 : 0;
    }
  }
  return {file, damaged: good.length - good.reduce((a, b) => a + b, 0)};
}

function saveFile(file) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

function show(book) {
  const {file, damaged} = putTogether(book);
  const item = document.getElementById("book").content.firstElementChild.cloneNode(true);
  const when = new Date(book.head.aside || book.head.at), aside = book.slot !== "book";
  const size = `${Math.max(1, Math.round(file.length / 1024))} kB`;
  item.querySelector(".what").textContent = word(aside ? "aside" : "book", {when: when.toLocaleString(), size});
  item.querySelector(".whole").textContent = damaged ? word("bad", {count: damaged, pages: book.head.pages}) : word("ok");
  const day = `${when.getFullYear()}-${String(when.getMonth() + 1).padStart(2, "0")}-${String(when.getDate()).padStart(2, "0")}`;
  const out = new File([file], `steepbook-${aside ? "copy-" : ""}${day}.sqlite`, {type: "application/octet-stream"});
  item.querySelector(".save").addEventListener("click", () => saveFile(out));
  const share = item.querySelector(".share");
  let can = false;
  try { can = Boolean(navigator.canShare && navigator.canShare({files: [out]})); } catch { /* not here */ }
  share.hidden = !can;
  share.addEventListener("click", () => navigator.share({files: [out]}).catch(() => {}));
  document.getElementById("books").append(item);
}

// Each photo as a file of its own, one behind the other: the program takes them in by what is in them.
function showPhotos(db) {
  if (!db.objectStoreNames.contains("photo")) return;
  const all = db.transaction("photo").objectStore("photo").getAllKeys();
  all.onsuccess = () => {
    if (all.result.length === 0) return;
    const item = document.getElementById("photos").content.firstElementChild.cloneNode(true);
    item.querySelector(".what").textContent = word("photos", {count: all.result.length});
    item.querySelector(".save").addEventListener("click", () => savePhotos(db, all.result));
    document.getElementById("books").append(item);
  };
}

async function savePhotos(db, names) {
  for (const name of names) {
    const bytes = await new Promise((resolve, reject) => {
      const get = db.transaction("photo").objectStore("photo").get(name);
      get.onsuccess = () => resolve(get.result);
      get.onerror = () => reject(get.error);
    });
    const start = new Uint8Array(bytes, 0, Math.min(4, bytes.byteLength));
    const kind = start[0] === 0x89 ? "png" : start[0] === 0x52 ? "webp" : "jpg";
    saveFile(new File([bytes], `steepbook-photo-${name.slice(0, 16)}.${kind}`, {type: "application/octet-stream"}));
    await new Promise(then => setTimeout(then, 300));   // Browsers drop downloads that come all at once.
  }
}

function line(text) {
  const item = document.createElement("li");
  item.textContent = text;
  document.getElementById("books").append(item);
}

async function versions() {
  const worker = navigator.serviceWorker && navigator.serviceWorker.controller;
  if (!worker) return;
  navigator.serviceWorker.addEventListener("message", event => {
    if (event.data.before !== undefined) document.getElementById("before").hidden = event.data.before === "";
    if (event.data.done) location.href = "./";
  });
  document.getElementById("use-before").addEventListener("click", () => worker.postMessage("use-before"));
  document.getElementById("use-this").addEventListener("click", () => worker.postMessage("use-this"));
  worker.postMessage("before?");
}

(async () => {
  try {
    const db = await openStores();
    const books = db ? await readBooks(db) : [];
    if (books.length === 0) line(word("none"));
    for (const book of books) show(book);
    if (db) showPhotos(db);
  } catch (trouble) {
    line(word("failed", {trouble: String(trouble)}));
  }
  versions();
})();
