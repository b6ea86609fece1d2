"use strict";
// What the program asks of the browser besides drawing and storage. Each thing is tried for, never
// guessed from the browser's name.

const kVerbs = ["pick", "save", "share", "print", "awake", "position", "clipboard", "fullscreen", "watch", "camera"];
const kSettingsMs = 5000;   // So long their database may take; without it they lie in localStorage alone.
const kPutBacks = 10;      // So often they are put back, a second apart, while the browser still clears the storage.
const kAnswer = {done: 0, closed: 1, again: 2, notHere: 3};

// Small settings and the ids of this copy's lanes, beside the book. localStorage alone reaches the disk
// some seconds late, and a killed browser would forget who this copy is; so each value also goes at once
// into a small database of its own. Read from memory: both are loaded before the program starts.
class Settings {
  constructor() {
    this.values = new Map();
    this.db = null;
    try {
      for (const name of Object.keys(localStorage)) {
        if (name.startsWith("steepbook.")) this.values.set(name.slice(10), localStorage.getItem(name));
      }
    } catch { /* refused: the database may still work */ }
  }

  // Answers in any case, also when the browser gives no database or never says so.
  open() {
    return new Promise(done => {
      setTimeout(done, kSettingsMs);
      let request;
      try { request = indexedDB.open("steepbook-settings", 1); } catch { done(); return; }
      request.onupgradeneeded = () => request.result.createObjectStore("setting");
      request.onerror = () => done();
      request.onsuccess = () => {
        const db = this.db = request.result;
        db.onclose = () => { if (this.db === db) { this.db = null; this.putBack(); } };
        db.onversionchange = () => { db.close(); if (this.db === db) this.db = null; };
        done();
      };
    });
  }

  async load() {
    await this.open();
    if (!this.db) return;
    await new Promise(done => {
      const tx = this.db.transaction("setting"), store = tx.objectStore("setting");
      const keys = store.getAllKeys(), values = store.getAll();
      tx.oncomplete = () => { keys.result.forEach((key, i) => this.values.set(key, values.result[i])); done(); };
      tx.onabort = () => done();
    });
  }

  // The browser ended the connection, maybe because it cleared the storage: what is missing now is put back. What is
  // there may be another tab's, and newer.
  async putBack(tries = kPutBacks) {
    await this.open();
    const again = () => { if (tries > 1) setTimeout(() => this.putBack(tries - 1), 1000); };
    for (const [key, value] of this.values) {
      try { if (localStorage.getItem(`steepbook.${key}`) === null) localStorage.setItem(`steepbook.${key}`, value); } catch { /* refused */ }
    }
    if (!this.db) return again();
    const tx = this.db.transaction("setting", "readwrite", {durability: "strict"}), store = tx.objectStore("setting");
    tx.onabort = again;
    const keys = store.getAllKeys();
    keys.onsuccess = () => {
      for (const [key, value] of this.values) if (!keys.result.includes(key)) store.put(value, key);
    };
  }

  put(key, value) {
    const tx = this.db.transaction("setting", "readwrite", {durability: "strict"});
    tx.objectStore("setting").put(value, key);
    if (tx.commit) tx.commit();
  }

  get(key) { return this.values.get(key) || ""; }

  // True when at least one of the two keeps it.
  set(key, value) {
    this.values.set(key, value);
    let kept = false;
    try { localStorage.setItem(`steepbook.${key}`, value); kept = true; } catch { /* full or refused */ }
    if (!this.db) return kept;
    try {
      this.put(key, value);
      return true;
    } catch {   // The connection is gone without a word.
      this.db = null;
      this.open().then(() => { if (this.db) this.put(key, value); }).catch(() => {});
      return kept;
    }
  }
}

class Device {
  constructor(say) {
    this.settings = new Settings();
    this.say = say;               // {polite, urgent}: the two live regions.
    this.wakeLock = null;
    this.wantsAwake = false;
    this.awakeUntil = 0;
    this.onAnswer = () => {};     // (number, end)
  }

  can(verb) {
    switch (kVerbs[verb]) {
      case "pick": case "save": case "print": return true;
      case "share": return typeof navigator.share === "function";
      case "awake": return "wakeLock" in navigator;
      case "position": return "geolocation" in navigator && isSecureContext;
      case "clipboard": return true;
      case "camera": return matchMedia("(pointer: coarse)").matches;
      default: return false;
    }
  }

  fact(which) {
    const locale = navigator.language || "en";
    if (which === 0) return locale;
    if (which === 1) {
      const part = new Intl.NumberFormat(locale).formatToParts(1.5).find(p => p.type === "decimal");
      return part && part.value === "," ? "," : ".";
    }
    return Intl.DateTimeFormat().resolvedOptions().timeZone || "";
  }

  setting(key) { return this.settings.get(key); }
  setSetting(key, value) { return this.settings.set(key, value); }

  announce(text, urgent) {
    const region = urgent ? this.say.urgent : this.say.polite;
    region.textContent = region.textContent === text ? `${text}\u00a0` : text;   // The same twice is spoken twice.
  }

  // ---- Files out ----

  // Home-screen programs on iOS have no download: a bare link does nothing there, or leads to a dead end.
  get noDownloads() { return navigator.standalone === true; }

  canShare(name, type) {
    if (typeof navigator.canShare !== "function") return false;
    try { return navigator.canShare({files: [new File(["x"], name, {type})]}); } catch { return false; }
  }

  giveFile(way, number, name, type, bytes) {
    const file = new File([bytes], name, {type});
    const answer = end => queueMicrotask(() => this.onAnswer(number, kAnswer[end]));
    if (way === 2) this.print(file, answer);
    else if (way === 1 || this.noDownloads) this.share(file, answer);
    else this.download(file, answer);
  }

  share(file, answer) {
    if (!this.canShareFile(file)) {
      if (this.noDownloads) answer("notHere");
      else this.download(file, answer);
      return;
    }
    navigator.share({files: [file]}).then(() => answer("done"), trouble => {
      if (trouble.name === "AbortError") answer("closed");
      else if (trouble.name === "NotAllowedError") answer("again");   // The press was too long ago.
      else if (this.noDownloads) answer("notHere");
      else this.download(file, answer);
    });
  }
  canShareFile(file) {
    try { return typeof navigator.canShare === "function" && navigator.canShare({files: [file]}); } catch { return false; }
  }

  download(file, answer) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(file);
    link.download = file.name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    answer("done");
  }

  // A finished page of ours in a window of its own; where that is refused, in a frame.
  print(file, answer) {
    if (this.noDownloads) { this.share(file, answer); return; }
    const url = URL.createObjectURL(file.slice(0, file.size, "text/html;charset=utf-8"));
    setTimeout(() => URL.revokeObjectURL(url), 600000);
    const other = window.open(url, "_blank");
    if (other) {
      other.addEventListener("load", () => other.print());
      answer("done");
      return;
    }
    const frame = document.createElement("iframe");
    frame.className = "unseen";
    frame.title = file.name;
    frame.addEventListener("load", () => {
      frame.contentWindow.addEventListener("afterprint", () => frame.remove());
      frame.contentWindow.print();
      answer("done");
    });
    frame.src = url;
    document.body.append(frame);
  }

  copyText(text) {
    const byHand = () => {
      const area = document.createElement("textarea");
      area.className = "unseen";
      area.value = text;
      document.body.append(area);
      area.select();
      document.execCommand("copy");
      area.remove();
    };
    if (navigator.clipboard) navigator.clipboard.writeText(text).catch(byHand);
    else byHand();
  }

  // ---- Staying awake ----

  // From the press that starts a pass; the system lets go whenever the page is hidden. Four hours at most.
  keepAwake(on) {
    this.wantsAwake = on;
    this.awakeUntil = Date.now() + 4 * 3600 * 1000;
    if (on) this.askAwake();
    else if (this.wakeLock) { this.wakeLock.release().catch(() => {}); this.wakeLock = null; }
  }
  askAwake() {
    if (!this.wantsAwake || Date.now() > this.awakeUntil || this.wakeLock || document.hidden || !("wakeLock" in navigator)) return;
    navigator.wakeLock.request("screen").then(lock => {
      this.wakeLock = lock;
      lock.addEventListener("release", () => { if (this.wakeLock === lock) this.wakeLock = null; });
      if (!this.wantsAwake) this.keepAwake(false);
    }, () => {});   // Refused (battery saver): the screen goes dark as it always does.
  }
}

// Size, density, insets, wishes of the system; tells once a change is there.
class Surroundings {
  constructor(root, canvas, probe, changed) {
    Object.assign(this, {root, canvas, probe, changed});
    this.queries = ["(prefers-color-scheme: dark)", "(prefers-reduced-motion: reduce)"].map(q => matchMedia(q));
    for (const query of this.queries) query.addEventListener("change", () => this.again());
    this.touch = matchMedia("(pointer: coarse)").matches;
    this.exact = null;         // Backing size in device pixels, where the browser tells.
    if ("ResizeObserver" in window) {
      const observer = new ResizeObserver(entries => {
        const box = entries[entries.length - 1].devicePixelContentBoxSize;
        this.exact = box ? [box[0].inlineSize, box[0].blockSize] : null;
        this.again();
      });
      try { observer.observe(canvas, {box: "device-pixel-content-box"}); } catch { observer.observe(canvas); }
      this.observer = observer;
    }
    this.watchDensity();
    addEventListener("resize", () => this.again());
    if (window.visualViewport) {
      visualViewport.addEventListener("resize", () => this.fit());
      visualViewport.addEventListener("scroll", () => this.fit());
    }
    // Phones report sizes in between while the keyboard moves, or nothing at all.
    for (const name of ["focusin", "focusout"]) {
      addEventListener(name, () => { for (const ms of [100, 300, 600]) setTimeout(() => this.fit(), ms); });
    }
    this.fit();
  }

  newCanvas(canvas) {
    if (this.observer) {
      this.observer.unobserve(this.canvas);
      try { this.observer.observe(canvas, {box: "device-pixel-content-box"}); } catch { this.observer.observe(canvas); }
    }
    this.canvas = canvas;
    this.exact = null;
  }

  // Moving to another screen and browser zoom change it.
  watchDensity() {
    const query = matchMedia(`(resolution: ${devicePixelRatio}dppx)`);
    query.addEventListener("change", () => { this.exact = null; this.watchDensity(); this.again(); }, {once: true});
  }

  // The part that the keyboard leaves: browsers that shrink nothing but the visual viewport pan it, too.
  fit() {
    const view = window.visualViewport, style = this.root.style;
    const covered = view && view.height < innerHeight - 1 && view.scale <= 1.01;
    const top = covered ? `${view.offsetTop}px` : "", height = covered ? `${view.height}px` : "";
    if (style.top === top && style.height === height) return;
    style.top = top;
    style.height = height;
    style.bottom = covered ? "auto" : "";
    this.again();
  }

  again() {
    if (this.soon) return;
    this.soon = true;
    queueMicrotask(() => { this.soon = false; this.changed(); });
  }

  read() {
    const box = this.root.getBoundingClientRect(), ratio = devicePixelRatio || 1;
    let across = Math.round(box.width * ratio), down = Math.round(box.height * ratio);
    if (this.exact && Math.abs(this.exact[0] - across) <= 1 && Math.abs(this.exact[1] - down) <= 1) [across, down] = this.exact;
    const inset = getComputedStyle(this.probe);
    return {
      width: box.width, height: box.height, across: Math.max(1, across), down: Math.max(1, down),
      dark: this.queries[0].matches, lessMotion: this.queries[1].matches, touch: this.touch,
      textScale: Math.min(2, Math.max(0.8, parseFloat(getComputedStyle(document.documentElement).fontSize) / 16 || 1)),
      insets: ["paddingLeft", "paddingTop", "paddingRight", "paddingBottom"].map(side => parseFloat(inset[side]) || 0),
    };
  }
}
