"use strict";
// Starts the page: reads the stored book while the program compiles, hands both to each other, then
// draws when asked and never otherwise.

const kFramesAfterInput = 4;   // A press is spread over the next frames by the event queue.
const kTurnMs = 35, kBetweenFramesMs = 150;   // Of a long job: a finger waits no longer than a turn and a frame.
const kShared = "steepbook-shared";   // As sw.js has it.
const kLargestFile = 200 * 1024 * 1024;
const kEnds = ["done", "full", "fenced", "lost", "failed", "gone"];

class SteepbookPage {
  constructor() {
    const byId = id => document.getElementById(id);
    this.root = byId("ui");
    this.canvas = byId("canvas");
    this.notice = byId("notice");
    this.loading = byId("loading");
    this.version = document.documentElement.dataset.version || "";
    this.module = null;
    this.ready = false;      // Exports exist before the runtime is up, and must not be called then.
    this.lost = false;
    this.taken = "";         // Why the book went to another page while this one still loaded it.
    this.frames = 0;         // Drawn since the start, for the tests.
    this.scriptMs = 0;
    this.burst = 0;
    this.drawing = false;
    this.asked = 0;
    this.scheduled = false;
    this.files = Promise.resolve();   // Chosen files are read one after the other: each is meant for the press before it.
    this.turns = new MessageChannel();   // Timers that follow each other are held up by browsers.
    this.turns.port1.onmessage = () => this.turn();
    this.turnsUntil = 0;
    this.timer = 0;
    this.timerAt = Infinity;
    this.storeTimer = 0;
    this.decoder = new TextDecoder();
    this.encoder = new TextEncoder();
    this.store = new BookStore(this.version);
    this.lock = new BookLock();
    this.device = new Device({polite: byId("say"), urgent: byId("shout")});
    this.pictures = new Pictures();
    this.installed = new Installed(() => this.tellProgramState());
    const running = then => this.running(then);
    this.mirror = new Mirror(byId("mirror"), {
      press: running(id => { this.module._page_press(id); this.wake(kFramesAfterInput); }),
      type: running((id, text, done) => {
        this.withText(text, (at, size) => this.module._page_type(id, at, size, done ? 1 : 0));
        this.wake(kFramesAfterInput);
      }),
      reveal: running(id => { this.module._page_reveal(id); this.wake(2); }),
      focus: running(id => { this.module._page_focus(id); this.wake(1); }),
      file: (id, file, kind) => this.fileCame(id, file, {photo: kind !== "file"}),
    });
    this.surroundings = new Surroundings(this.root, this.canvas, byId("insets"), () => this.resized());
    this.input = new Input(this.root, {
      isDeaf: () => !this.ready || this.lost || document.hidden,   // Presses on a blank canvas would be blind.
      pointer: (what, touch, x, y) => {
        if (touch !== this.surroundings.touch && what === 1) { this.surroundings.touch = touch; this.tellDevice(); }
        this.module._page_pointer(what, touch ? 1 : 0, x, y);
        this.wake(what === 0 && !touch ? 1 : kFramesAfterInput);
      },
      pointerCancelled: () => { if (this.ready) { this.module._page_pointer_cancelled(); this.wake(kFramesAfterInput); } },
      wheel: (x, y, steps) => { this.module._page_wheel(x, y, steps); this.wake(kFramesAfterInput); },
      pinch: (at, factor) => { this.module._page_pinch(at[0], at[1], factor); this.wake(2); },
      key: (key, down, control) => {
        if (!this.ready) return;
        this.module._page_key(key, down ? 1 : 0, control ? 1 : 0);
        this.wake(kFramesAfterInput);
      },
      blurField: () => {
        const active = document.activeElement;
        if (active && active.matches("input,textarea")) active.blur();
      },
    });
  }

  // As `then`, while there is a program to call.
  running(then) {
    return (...given) => { if (this.module) then(...given); };
  }

  // ---- Start ----

  async start() {
    try {
      // From the first moment on: what is asked for while the book is being read must not be missed.
      this.lock.onLost = why => this.takenOver(why);
      this.store.onTakenOver = why => this.takenOver(why);
      this.store.onBlocked = () => this.tell("blocked");
      this.store.onClosed = this.running(() => { this.module._page_store_doubt(); this.storeStep(); });
      this.watchForBreaks();
      this.store.onPhotosLeft = this.running(count => { this.module._page_photos_left(count); this.wake(2); });
      const wanted = sessionStorage.getItem("steepbook.use-here") === "1";
      sessionStorage.removeItem("steepbook.use-here");
      const [module, writer] = await Promise.all([createApp(this.moduleOptions()), this.lock.take(wanted)]);
      // After the lock: the other page has saved by then.
      const [found] = await Promise.all([this.store.readAll(), this.device.settings.load()]);
      this.module = this.store.module = module;
      module.host = this.host();
      module._main(0, 0);
      for (const name of found.photos) this.withText(name, (at, size) => module._page_photo_stored(at, size));
      const whole = this.store.fill(found, writer && !this.taken);
      if (!whole) { this.tell("damaged"); return; }
      this.root.hidden = false;
      this.notice.hidden = this.loading.hidden = true;
      this.readSurroundings();
      this.tellDevice();
      this.tellProgramState();
      if (module._page_start() !== 1) { this.tell("no-drawing"); return; }
      this.ready = true;
      this.useProgramFont();
      this.watchCanvas();
      this.watchPage();
      this.wake(2);
      if (writer && !this.taken) this.takeShared().catch(trouble => console.error("shared file:", trouble));
    } catch (trouble) {
      this.tell(trouble && trouble.name === "VersionError" ? "newer" : "not-started", trouble);
      this.installed.startNewer();   // Nothing of this version runs that it could disturb.
      return;
    }
    navigator.storage && navigator.storage.persisted && navigator.storage.persisted().then(yes => this.tellLasting(yes));
    this.installed.begin();
  }

  moduleOptions() {
    return {
      noInitialRun: true,
      canvas: this.canvas,
      locateFile: name => (name.endsWith(".wasm") ? document.documentElement.dataset.program : name),
      printErr: text => console.error(text),
      onAbort: () => this.stop(),
    };
  }

  // A program that broke off in the middle of something is never called again: neither for a frame nor for a write.
  watchForBreaks() {
    const look = trouble => {
      if (this.module && (this.drawing || trouble instanceof WebAssembly.RuntimeError || trouble instanceof RangeError)) this.stop();
    };
    addEventListener("error", event => look(event.error));
    addEventListener("unhandledrejection", event => look(event.reason));
  }
  stop() {
    clearTimeout(this.timer);
    clearTimeout(this.storeTimer);
    this.module = null;
    this.lock.give();
    this.tell("stopped");
  }

  host() {
    const page = this, device = this.device;
    return {
      text: (at, size) => page.decoder.decode(page.module.HEAPU8.subarray(at, at + size)),
      giveText: text => {
        const bytes = page.encoder.encode(text), at = page.module._malloc(bytes.length + 1);
        page.module.HEAPU8.set(bytes, at);
        page.module.HEAPU8[at + bytes.length] = 0;
        return at;
      },
      fact: which => device.fact(which),
      setting: key => device.setting(key),
      setSetting: (key, value) => device.setSetting(key, value),
      storeWrite: (plan, pages, pageCount, segments, segmentCount) => page.storeWrite(plan, pages, pageCount, segments, segmentCount),
      storeReopen: () => page.store.reopen(),
      storeCopyAside: number => page.copyAside(number),
      photoKeep: (name, bytes) => page.store.keepPhoto(name, bytes),
      photoDecode: (number, bytes, side) => page.decodePhoto(number, bytes, side),
      photoRead: (number, name) => page.readPhoto(number, name),
      askLasting: () => {
        if (navigator.storage && navigator.storage.persist) navigator.storage.persist().then(yes => page.tellLasting(yes));
      },
      wakeIn: ms => page.wakeIn(ms),
      announce: (text, urgent) => device.announce(text, urgent),
      mirror: (at, size) => page.mirror.show(page.module.HEAPU8.slice(at, at + size)),
      setColors: (colors, dark) => page.setColors(colors, dark),
      setLanguage: (code, title) => { document.documentElement.lang = code; document.title = title; },
      can: verb => device.can(verb),
      canShare: (name, type) => device.canShare(name, type),
      giveFile: (way, number, name, type, bytes) => device.giveFile(way, number, name, type, bytes),
      copyText: text => device.copyText(text),
      keepAwake: on => device.keepAwake(on),
      useHere: () => { sessionStorage.setItem("steepbook.use-here", "1"); location.reload(); },
      useNewer: () => page.written().then(() => page.installed.useNewer()),
      canDownload: () => !device.noDownloads,
      getBookOut: () => { location.href = "rescue.html"; },
    };
  }

  useProgramFont() {
    const m = this.module, at = m._page_font(0), size = m._page_font_size(0);
    const font = new FontFace("Steepbook", m.HEAPU8.slice(at, at + size));
    document.fonts.add(font);
    font.load().catch(() => {});
  }

  withText(text, then) {
    const bytes = this.encoder.encode(text), at = this.module._malloc(bytes.length + 1);
    this.module.HEAPU8.set(bytes, at);
    then(at, bytes.length);
    this.module._free(at);
  }

  // What went wrong before the program could speak: words of the page itself, in both languages.
  tell(what, trouble) {
    if (trouble) console.error(trouble);
    this.ready = false;
    this.root.hidden = this.loading.hidden = true;
    this.notice.hidden = false;
    this.notice.dataset.what = what;
    const spanish = (navigator.language || "").startsWith("es");
    for (const part of this.notice.querySelectorAll("[data-when]")) {
      part.hidden = part.dataset.when !== what || (part.lang === "es") !== spanish;
    }
    for (const part of this.notice.querySelectorAll("[data-always]")) part.hidden = (part.lang === "es") !== spanish;
    document.documentElement.lang = spanish ? "es" : "en";
  }

  // ---- Frames ----

  wake(frames) {
    if (this.drawing) { this.asked = Math.max(this.asked, frames); return; }
    this.burst = Math.max(this.burst, frames);
    this.schedule();
  }
  wakeIn(ms) {
    if (ms <= 0) { this.wake(1); return; }
    const at = performance.now() + ms;
    if (at >= this.timerAt) return;
    clearTimeout(this.timer);
    this.timerAt = at;
    this.timer = setTimeout(() => { this.timerAt = Infinity; this.wake(1); }, Math.min(ms, 0x7fffffff));
  }
  schedule() {
    if (this.scheduled || !this.ready || this.lost || document.hidden) return;
    this.scheduled = true;
    requestAnimationFrame(now => this.frame(now));
  }

  frame(now) {
    this.scheduled = false;
    if (!this.ready || this.lost || document.hidden) return;
    const began = performance.now();
    if (this.burst > 0) this.burst--;
    clearTimeout(this.timer);
    this.timerAt = Infinity;
    this.drawing = true;
    const next = this.module._page_frame(now);
    this.drawing = false;
    const asked = this.asked;   // By the frame itself.
    this.asked = 0;
    this.frames++;
    this.mirror.settle();
    this.storeStep();
    this.scriptMs += performance.now() - began;
    if (this.burst > 0) this.schedule();
    else if (next === 0 && this.module._page_has_job()) {
      this.turnsUntil = performance.now() + kBetweenFramesMs;
      this.turns.port2.postMessage(null);
    } else if (asked > 0) this.wake(asked);
    else if (next >= 0) this.wakeIn(next);
  }

  // A long job goes on between frames, its progress is drawn now and then, and input has a frame at once.
  turn() {
    if (!this.ready || this.lost || document.hidden || this.scheduled) return;
    const began = performance.now();
    this.drawing = true;
    const more = this.module._page_work(kTurnMs) === 1;
    this.drawing = false;
    this.storeStep();
    const ended = performance.now();
    this.scriptMs += ended - began;
    if (more && ended < this.turnsUntil) this.turns.port2.postMessage(null);
    else this.wake(1);
  }

  // ---- Storage ----

  storeWrite(plan, pagesAt, pageCount, segmentsAt, segmentCount) {
    const m = this.module, numbers = (at, count) => Array.from(m.HEAPU32.subarray(at >> 2, (at >> 2) + count));
    // Copies, one by one: the store must never see the program's memory itself, which moves when it grows.
    const copy = (first, count) => {
      const value = new Uint8Array(count * (kPage + 4)), sums = new DataView(value.buffer, count * kPage), at = m._page_bytes(first);
      value.set(m.HEAPU8.subarray(at, at + count * kPage));
      for (let i = 0; i < count; ++i) sums.setUint32(4 * i, m._page_sum(first + i) >>> 0, true);
      return value.buffer;
    };
    const pages = numbers(pagesAt, pageCount).map(n => [n, copy(n, 1)]);
    const segments = numbers(segmentsAt, segmentCount).map(s => {
      const first = s * kSegmentPages;
      return [s, copy(first, Math.min(kSegmentPages, plan.pages - first))];
    });
    this.store.write(plan, pages, segments, (end, generation, detail) => {
      if (!this.module) return;
      this.withText(detail, (at, size) => m._page_written(plan.ticket, kEnds.indexOf(end), generation, at, size));
      this.storeStep();
    });
  }

  async copyAside(number) {
    const made = await this.store.copyAside().then(() => true, trouble => { console.error("safety copy:", trouble); return false; });
    this.module._page_answer(number, made ? 0 : 4);
    this.wake(2);
  }

  storeStep() {
    clearTimeout(this.storeTimer);
    if (!this.module) return;
    const next = this.module._page_store_step();
    if (next >= 0) this.storeTimer = setTimeout(() => this.storeStep(), Math.min(Math.max(next, 1), 0x7fffffff));
  }

  async decodePhoto(number, bytes, side) {
    await null;
    const m = this.module, pixels = await this.pictures.pixels(bytes, side).catch(() => null);
    const at = pixels ? m._malloc(pixels.data.length) : 0;
    if (at) m.HEAPU8.set(pixels.data, at);
    m._page_pixels(number, at, at ? pixels.width : 0, at ? pixels.height : 0);
    if (at) m._free(at);
    this.wake(2);
  }

  async readPhoto(number, name) {
    await null;   // The answer never comes inside the question.
    let could = true;
    const m = this.module, bytes = await this.store.readPhoto(name).catch(() => { could = false; return null; });
    const at = bytes ? m._malloc(Math.max(1, bytes.length)) : 0;
    if (at) m.HEAPU8.set(bytes, at);
    m._page_photo(number, at, at ? bytes.length : could && !bytes ? 0 : -1);
    if (at) m._free(at);
    this.wake(2);
  }

  tellLasting(yes) {
    if (this.module) this.module._page_lasting(yes ? 1 : 0);
  }

  // Another tab was told 'use it here', or a newer page wants the stores. What is committed goes out
  // first; from then on this page only shows, and gives files.
  async takenOver(why) {
    if (!this.module) this.taken = why;   // Nothing of ours is unsaved: it is read, and never written.
    else if (why !== "stolen") await this.written();
    if (this.module) this.module._page_give_up();
    this.lock.give();
    if (why === "newer") this.store.close();
    this.wake(2);
  }

  // What is committed goes out; not longer than another page is kept waiting.
  async written() {
    this.module._page_keep();
    for (let i = 0; i < 25 && this.module && this.module._page_unsaved(); ++i) await new Promise(then => setTimeout(then, 100));
  }

  // ---- Files in ----

  fileCame(id, file, how) {
    this.files = this.files.then(() => this.fileChosen(id, file, how)).catch(trouble => { setTimeout(() => { throw trouble; }); });
    return this.files;
  }

  async fileChosen(id, file, {dropped = false, photo = false} = {}) {
    const m = this.module;
    const refused = why => {
      this.withText(file.name, (at, size) => m._page_file_refused(at, size, dropped ? 1 : 0, why));
      this.wake(kFramesAfterInput);
    };
    // The press goes first: a screen reacts to it by asking for the file.
    if (!dropped) { m._page_press(id); this.wake(kFramesAfterInput); }
    if (file.size > kLargestFile) { refused(0); return; }
    let bytes;
    try {
      const small = photo || (dropped && file.type.startsWith("image/")) ? await this.pictures.smaller(file) : null;
      bytes = new Uint8Array(await (small || file).arrayBuffer());
    } catch { refused(1); return; }
    const at = m._malloc(Math.max(1, bytes.length));
    if (!at) { refused(0); return; }
    m.HEAPU8.set(bytes, at);
    this.withText(file.name, (nameAt, nameSize) => this.withText(file.type, (typeAt, typeSize) =>
      m._page_file(nameAt, nameSize, typeAt, typeSize, at, bytes.length, dropped ? 1 : 0, file.lastModified || 0)));
    m._free(at);
    this.wake(kFramesAfterInput);
  }

  // The share sheet opens the page anew, and what it shared waits in the service worker's cache. One file at a time is
  // looked at: others stay for the next start.
  async takeShared() {
    if (!globalThis.caches || !await caches.has(kShared)) return;
    const cache = await caches.open(kShared), [first] = await cache.keys();
    const answer = first && await cache.match(first);
    if (!answer) return;
    const blob = await answer.blob();
    await this.fileCame(0, new File([blob], decodeURIComponent(answer.headers.get("X-Name") || ""), {type: blob.type}),
                        {dropped: true});
    await cache.delete(first);
  }

  // ---- The page and its canvas ----

  readSurroundings() {
    const now = this.now = this.surroundings.read();
    // A wider canvas is an empty one until it is drawn; the same size stays as it is.
    if (this.canvas.width !== now.across || this.canvas.height !== now.down) {
      this.canvas.width = now.across;
      this.canvas.height = now.down;
    }
    this.module._page_resize(now.width, now.height, now.across, now.down);
  }
  resized() {
    if (!this.ready) return;
    this.readSurroundings();
    this.tellDevice();
    this.keepFieldInSight();
    // At once, so that no stretched picture is seen.
    if (!this.lost && !document.hidden) { this.burst = Math.max(this.burst, 2); this.frame(performance.now()); }
    clearTimeout(this.resizeTimer);
    this.resizeTimer = setTimeout(() => this.wake(1), 500);   // Turning a phone gives sizes in between.
  }
  tellDevice() {
    const s = this.now || this.surroundings.read();
    this.module._page_device(s.dark ? 1 : 0, s.lessMotion ? 1 : 0, this.surroundings.touch ? 1 : 0, s.textScale,
                             ...s.insets);
  }
  tellProgramState() {
    if (!this.module) return;
    const i = this.installed;
    this.module._page_program(i.worksOffline ? 1 : 0, i.newerWaits ? 1 : 0, i.isInstalled ? 1 : 0, i.keepsPerApp ? 1 : 0);
    this.wake(1);
  }
  keepFieldInSight() {
    const node = this.mirror.nodeOf(document.activeElement);
    if (node && node.item.role === "field") this.module._page_reveal(node.item.id);
  }
  setColors(colors, dark) {
    const style = document.documentElement.style;
    ["--ground", "--surface", "--ink"].forEach((name, i) => style.setProperty(name, colors[i]));
    style.colorScheme = dark ? "dark" : "light";
    document.querySelector("meta[name=theme-color]").content = colors[0];
  }

  watchCanvas() {
    this.canvas.addEventListener("webglcontextlost", event => {
      event.preventDefault();
      if (!this.module) return;
      this.lost = true;
      this.input.reset();
      this.module._page_context_lost();
      this.waitForContext();
    });
    this.canvas.addEventListener("webglcontextrestored", () => this.contextBack());
  }
  contextBack() {
    clearTimeout(this.contextTimer);
    if (!this.module) return;
    if (this.module._page_context_back() !== 1) { this.tell("no-drawing"); return; }
    this.lost = false;
    this.readSurroundings();
    this.wake(3);
  }
  // A lost canvas gives its lost context for ever: after three seconds in sight a new one takes its place.
  waitForContext() {
    clearTimeout(this.contextTimer);
    this.contextTimer = setTimeout(() => {
      if (!this.lost) return;
      if (document.hidden) { this.waitForContext(); return; }
      const canvas = this.canvas.cloneNode(false);
      this.canvas.replaceWith(canvas);
      this.canvas = canvas;
      this.surroundings.newCanvas(canvas);
      this.watchCanvas();
      this.contextBack();
    }, 3000);
  }

  watchPage() {
    const hidden = yes => {
      if (!this.module) return;
      this.input.reset();
      this.module._page_hidden(yes ? 1 : 0);
      if (yes) {
        clearTimeout(this.timer);
        this.timerAt = Infinity;
        return;
      }
      this.readSurroundings();
      this.tellDevice();
      this.device.askAwake();
      this.storeStep();
      this.wake(2);   // The canvas may come back blank.
    };
    document.addEventListener("visibilitychange", () => hidden(document.hidden));
    addEventListener("pagehide", () => hidden(true));
    addEventListener("pageshow", event => { if (event.persisted) hidden(false); });
    document.addEventListener("resume", () => hidden(false));

    // The system's back is ours: one entry of history stands guard in front of the real one.
    if (history.state !== "guard") {   // It is there still when the page was loaded anew.
      history.replaceState("ground", "");
      history.pushState("guard", "");
    }
    addEventListener("popstate", () => {
      if (!this.module) { history.back(); return; }
      const gone = this.module._page_back() !== 1;
      this.wake(kFramesAfterInput);
      if (gone) history.back();   // Nothing left to go back to: the system leaves.
      else history.pushState("guard", "");
    });

    this.root.addEventListener("dragover", event => event.preventDefault());
    this.root.addEventListener("drop", event => {
      event.preventDefault();
      for (const file of event.dataTransfer.files) this.fileCame(0, file, {dropped: true});
    });
    this.device.onAnswer = (number, end) => { if (this.module) this.module._page_answer(number, end); this.wake(2); };
  }
}

const steepbook = new SteepbookPage();
globalThis.steepbook = steepbook;   // For the tests and for a person at the console.
steepbook.start();
