"use strict";
// The book's lasting storage: IndexedDB. One transaction writes all pages of a commit and the head that
// describes them; 'Saved' is what its `complete` event says and nothing earlier.
//
//   head     'book' → {gen, run, ticket, pages, sum, schema, app, at}
//   page     number → ArrayBuffer of 4096 bytes + CRC-32 (little-endian)
//   segment  number → ArrayBuffer of n ≤ 64 pages + n CRC-32s; a row in `page` overrules it
//   aside    [slot, kind, number] → safety copies, two of them
//   photo    SHA-256 in hexadecimal → ArrayBuffer of the photo's bytes; never deleted
//
// rescue.js reads the same stores without the program.

const kPage = 4096, kSegmentPages = 64;
const kDatabase = "steepbook";
const kLeftAgainMs = 30000;
const kAnswerMs = 10000;   // A storage that says nothing for so long will not (phones take it from sleeping pages).

class BookStore {
  constructor(version) {
    this.version = version;
    this.run = BookStore.newRun();
    this.seen = "";                // Whose write the book was when this page read it, or last wrote it.
    this.db = null;
    this.opening = null;
    this.onTakenOver = () => {};   // Another tab wants the book, or a newer page wants to change the stores.
    this.onBlocked = () => {};     // An older page holds the stores that this one wants to change.
    this.onClosed = () => {};      // The connection ended by itself, as when the browser clears the stores.
    this.module = null;
    this.photos = new Map();       // Name → bytes on their way: they go out with the next write of pages.
    this.left = new Map();         // Of these, those that found no room: tried again one by one.
    this.leftTimer = 0;
    this.onPhotosLeft = () => {};  // How many they are now.
  }

  static newRun() {
    return Array.from(crypto.getRandomValues(new Uint8Array(8)), b => b.toString(16).padStart(2, "0")).join("");
  }

  open() {
    if (this.db) return Promise.resolve(this.db);
    if (!this.opening) {
      const opening = this.opening = this.ask().then(db => {
        if (this.opening !== opening) {   // Given up meanwhile.
          db.close();
          throw new Error("too late");
        }
        this.opening = null;
        this.use(db);
        return db;
      }, trouble => {
        if (this.opening === opening) this.opening = null;
        throw trouble;
      });
    }
    return this.opening;
  }

  ask() {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open(kDatabase, 2);   // 1 had no photos.
      let given = false;
      const patience = setTimeout(() => { given = true; reject(new Error("no answer")); }, kAnswerMs);
      request.onupgradeneeded = () => {
        const db = request.result;
        for (const name of ["head", "page", "segment", "aside", "photo"]) {
          if (!db.objectStoreNames.contains(name)) db.createObjectStore(name);
        }
      };
      request.onblocked = () => { clearTimeout(patience); this.onBlocked(); };   // It goes on when that page is closed.
      request.onerror = () => { clearTimeout(patience); reject(request.error); };
      request.onsuccess = () => {
        clearTimeout(patience);
        if (given) request.result.close();
        else resolve(request.result);
      };
    });
  }

  use(db) {
    this.db = db;
    db.onclose = () => {
      if (this.db !== db) return;
      this.db = null;
      this.onClosed();
    };
    db.onversionchange = () => this.onTakenOver("newer");   // close() follows once all is written.
  }

  close() {
    if (this.db) { try { this.db.close(); } catch { /* already gone */ } }
    this.db = null;
  }

  // The connection may be dead without saying so, or a request for a new one hang.
  reopen() {
    this.close();
    this.opening = null;
    this.open().catch(() => {});
  }

  // ---- Load ----

  // Reads everything in one transaction, so that it belongs together.
  async readAll() {
    const db = await this.open();
    return new Promise((resolve, reject) => {
      const tx = db.transaction(["head", "page", "segment", "photo"], "readonly");
      const found = {head: null, segments: [], pages: [], photos: []};
      tx.objectStore("photo").getAllKeys().onsuccess = event => { found.photos = event.target.result; };
      const both = (store, range, into) => {
        const keys = store.getAllKeys(range), values = store.getAll(range);
        values.onsuccess = () => keys.result.forEach((key, i) => into.push([key, values.result[i]]));
      };
      const head = tx.objectStore("head").get("book");
      head.onsuccess = () => {
        found.head = head.result || null;
        if (!found.head) return;
        both(tx.objectStore("page"), null, found.pages);
        // Some at a time: a large book as one answer would be held twice.
        const segments = Math.ceil(found.head.pages / kSegmentPages);
        for (let s = 0; s < segments; s += 32) both(tx.objectStore("segment"), IDBKeyRange.bound(s, s + 31), found.segments);
      };
      tx.oncomplete = () => {
        this.seen = found.head ? found.head.run : "";
        resolve(found);
      };
      tx.onabort = () => reject(tx.error || new Error("aborted"));
    });
  }

  // Hands what was read to the program. False when it is not whole: then nothing is ever written.
  fill(found, writer) {
    const m = this.module, head = found.head;
    m._page_load_begin(head ? head.gen : 0, head ? head.pages : 0, head ? head.at : 0, writer ? 1 : 0);
    if (!head) return m._page_load_end(0, 0) === 1;
    const room = m._malloc(kSegmentPages * 4);
    for (const [number, value] of found.segments) {
      const count = value.byteLength / (kPage + 4);
      if (number * kSegmentPages >= head.pages || count > kSegmentPages) continue;
      m.HEAPU8.set(new Uint8Array(value, 0, count * kPage), m._page_load_room(number));
      m.HEAPU8.set(new Uint8Array(value, count * kPage), room);
      m._page_load_segment(number, room, count);
    }
    m._free(room);
    const page = m._malloc(kPage + 4);
    for (const [number, value] of found.pages) {
      if (value.byteLength !== kPage + 4) continue;
      m.HEAPU8.set(new Uint8Array(value), page);
      m._page_load_page(number, page);
    }
    m._free(page);
    const sum = BigInt("0x" + head.sum);
    return m._page_load_end(Number(sum >> 32n), Number(sum & 0xffffffffn)) === 1;
  }

  // ---- Write ----

  // `pages` and `segments`: [number, ArrayBuffer], copied out of the program's memory already. Answers
  // once with `done(end, generation, detail)`; 'done' comes from `complete` alone.
  async write(plan, pages, segments, done) {
    const put = photos => this.open().then(
      db => new Promise(then => this.begin(db, plan, pages, segments, photos, (...ended) => then(ended))),
      // A newer page has changed the stores: what is there is its book.
      trouble => [trouble.name === "VersionError" ? "fenced" : "lost", 0, String(trouble)]);
    const photos = [...this.photos];
    let ended = await put(photos);
    // Records come first: a photo too large for the room must not keep them out, nor an old safety copy.
    if (ended[0] === "full" && photos.length) {
      ended = await put([]);
      if (ended[0] !== "full") this.leave(photos);
    }
    if (ended[0] === "full" && await this.dropOlderCopy().catch(() => false)) ended = await put([]);
    done(...ended);
  }

  begin(db, plan, pages, segments, photos, done) {
    let tx;
    const stores = ["head", "page", "segment", ...(photos.length ? ["photo"] : [])];
    try {
      tx = db.transaction(stores, "readwrite", {durability: "strict"});
    } catch (trouble) {   // The connection is closing or closed.
      done("lost", 0, String(trouble));
      return;
    }
    let refused = "", generation = 0;
    const heads = tx.objectStore("head"), pageStore = tx.objectStore("page"), segmentStore = tx.objectStore("segment");
    tx.oncomplete = () => {
      this.seen = this.run;
      for (const [name] of photos) this.photos.delete(name);
      done("done", generation, "");
    };
    // A full disk shows here alone: no request fails before.
    tx.onabort = () => {
      const name = tx.error ? tx.error.name : "";
      if (refused) done(refused, 0, "");
      else if (name === "QuotaExceededError") done("full", 0, name);
      else if (name === "InvalidStateError" || name === "UnknownError") done("lost", 0, String(tx.error));
      else done("failed", 0, String(tx.error));
    };

    const putHead = () => {
      heads.put({gen: generation, run: this.run, ticket: plan.ticket, pages: plan.pages, sum: plan.sum,
                 schema: plan.schema, app: this.version, at: Date.now()}, "book");
      if (tx.commit) tx.commit();   // Without it the end waits for an event loop that a dying page never runs.
    };
    // Few at a time, so that the page stays alive between; a small write goes out in one turn.
    const kSmall = 1, kLarge = 8, kTurn = 64;   // What a piece costs, and what a turn may.
    const work = [];
    const add = (cost, piece) => work.push({cost, piece});
    for (const [name, bytes] of photos) add(kTurn, () => this.putPhotoInto(tx.objectStore("photo"), name, bytes));
    for (const [number, value] of segments) {
      add(kLarge, () => {
        segmentStore.put(value, number);
        return pageStore.delete(IDBKeyRange.bound(number * kSegmentPages, number * kSegmentPages + kSegmentPages - 1));
      });
    }
    for (const [number, value] of pages) add(kSmall, () => pageStore.put(value, number));
    add(kSmall, () => {
      segmentStore.delete(IDBKeyRange.lowerBound(Math.ceil(plan.pages / kSegmentPages)));
      return pageStore.delete(IDBKeyRange.lowerBound(plan.pages));
    });
    const next = from => {
      let last = null, at = from;
      for (let cost = 0; at < work.length && cost < kTurn; ++at) {
        cost += work[at].cost;
        last = work[at].piece();
      }
      if (at === work.length) putHead();
      else last.onsuccess = () => next(at);
    };

    const head = heads.get("book");
    head.onsuccess = () => {
      const there = head.result || {gen: 0, run: "", ticket: 0};
      const own = there.run === this.run && there.ticket < plan.ticket;   // An earlier try of ours that arrived late.
      // A book that was begun anew counts from one again, so its number alone would not tell it from ours.
      const asLeft = there.gen === plan.expected && (plan.expected === 0 || there.run === this.seen);
      if (!asLeft && !own) {
        refused = head.result ? "fenced" : "gone";
        tx.abort();
        return;
      }
      generation = there.gen + 1;
      next(0);
    };
  }

  // ---- Photos ----

  keepPhoto(name, bytes) { this.photos.set(name, bytes); }

  // What lies there may be damaged. Most often it is not, and reading costs less than writing. Answers the request after
  // which the transaction may go on.
  putPhotoInto(photos, name, bytes) {
    const there = photos.get(name);
    there.addEventListener("success", () => { if (!sameBytes(there.result, bytes)) photos.put(bytes.buffer, name); });
    return there;
  }

  // Their records are stored without them; they stay in memory and are tried again.
  leave(photos) {
    for (const [name, bytes] of photos) {
      this.photos.delete(name);
      this.left.set(name, bytes);
    }
    this.tryLeft();
  }

  async tryLeft() {
    clearTimeout(this.leftTimer);
    for (const [name, bytes] of [...this.left]) {
      if (await this.putPhoto(name, bytes).then(() => true, () => false)) this.left.delete(name);
    }
    this.onPhotosLeft(this.left.size);
    if (this.left.size) this.leftTimer = setTimeout(() => this.tryLeft(), kLeftAgainMs);
  }

  async putPhoto(name, bytes) {
    const db = await this.open();
    return new Promise((resolve, reject) => {
      const tx = db.transaction("photo", "readwrite", {durability: "strict"});
      const put = this.putPhotoInto(tx.objectStore("photo"), name, bytes);
      put.addEventListener("success", () => { if (tx.commit) tx.commit(); });
      tx.oncomplete = () => resolve();
      tx.onabort = () => reject(tx.error || new Error("aborted"));
    });
  }

  // Its bytes as Uint8Array, null when it is not there.
  async readPhoto(name) {
    const here = this.photos.get(name) || this.left.get(name);
    if (here) return here;
    const db = await this.open();
    return new Promise((resolve, reject) => {
      const tx = db.transaction("photo", "readonly"), get = tx.objectStore("photo").get(name);
      tx.oncomplete = () => resolve(get.result ? new Uint8Array(get.result) : null);
      tx.onabort = () => reject(tx.error || new Error("aborted"));
    });
  }

  // ---- Safety copies ----

  // Copies the stored book into the other slot, in one transaction.
  async copyAside() {
    const db = await this.open();
    return new Promise((resolve, reject) => {
      const tx = db.transaction(["head", "page", "segment", "aside"], "readwrite", {durability: "strict"});
      const aside = tx.objectStore("aside");
      tx.oncomplete = () => resolve();
      tx.onabort = () => reject(tx.error || new Error("aborted"));
      const heads = [0, 1].map(slot => aside.get([slot, "head", 0]));
      const book = tx.objectStore("head").get("book");
      book.onsuccess = () => {
        if (!book.result) return;
        const age = heads.map(h => (h.result ? h.result.aside : 0));
        const slot = age[0] <= age[1] ? 0 : 1;
        aside.delete(IDBKeyRange.bound([slot], [slot, []]));
        aside.put({...book.result, aside: Date.now()}, [slot, "head", 0]);
        for (const kind of ["page", "segment"]) {
          const cursor = tx.objectStore(kind).openCursor();
          cursor.onsuccess = () => {
            const at = cursor.result;
            if (!at) return;
            aside.put(at.value, [slot, kind, at.key]);
            at.continue();
          };
        }
      };
    });
  }

  // Makes room where records find none: of two safety copies the older one goes. True when it did.
  async dropOlderCopy() {
    const db = await this.open();
    return new Promise(resolve => {
      let dropped = false;
      const tx = db.transaction("aside", "readwrite", {durability: "strict"}), aside = tx.objectStore("aside");
      tx.oncomplete = () => resolve(dropped);
      tx.onabort = () => resolve(false);
      const heads = [0, 1].map(slot => aside.get([slot, "head", 0]));
      heads[1].onsuccess = () => {
        if (!heads[0].result || !heads[1].result) return;
        const slot = heads[0].result.aside <= heads[1].result.aside ? 0 : 1;
        aside.delete(IDBKeyRange.bound([slot], [slot, []]));
        dropped = true;
      };
    });
  }
}

function sameBytes(stored, bytes) {
  if (!(stored instanceof ArrayBuffer) || stored.byteLength !== bytes.length) return false;
  const there = new Uint8Array(stored);
  for (let i = 0; i < bytes.length; ++i) if (there[i] !== bytes[i]) return false;
  return true;
}

// Who may write. A lock held for the life of the page where the browser has locks; the generation in
// the head is the guard that needs nobody's help.
class BookLock {
  constructor() {
    this.held = false;
    this.release = null;
    this.onLost = () => {};      // Taken from us, or asked for by another tab.
    this.channel = typeof BroadcastChannel === "function" ? new BroadcastChannel(kDatabase) : null;
    if (this.channel) {
      this.channel.onmessage = event => {
        if (event.data === "give" && this.held) this.onLost("asked");
      };
    }
  }

  // True: this page writes. `wanted`: a person said 'use it here', so the other page is asked for it.
  async take(wanted) {
    if (!navigator.locks) { this.held = true; return true; }
    if (await this.request({ifAvailable: true})) return true;
    if (!wanted) return false;
    if (this.channel) this.channel.postMessage("give");
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), 3000);
    const given = await this.request({signal: patience.signal});
    clearTimeout(timer);
    // A frozen page never answers. What it may still try to write later is refused by the generation.
    return given || this.request({steal: true});
  }

  request(options) {
    return new Promise(answer => {
      navigator.locks.request(kDatabase, options, lock => {
        if (!lock) { answer(false); return undefined; }
        this.held = true;
        answer(true);
        return new Promise(release => { this.release = release; });
      }).catch(() => {
        const had = this.held;
        this.held = false;
        answer(false);
        if (had) this.onLost("stolen");
      });
    });
  }

  give() {
    this.held = false;
    if (this.release) this.release();
  }
}
