"use strict";
// The program's own files: all of them on this device after the first visit, a newer version only when
// a person says so. sw.js does the keeping; this side asks it.

class Installed {
  constructor(changed) {
    this.changed = changed;
    this.worksOffline = false;
    this.newerWaits = false;
    this.registration = null;
    this.reloading = false;
  }

  get isInstalled() {
    return navigator.standalone === true || matchMedia("(display-mode: standalone)").matches ||
           matchMedia("(display-mode: fullscreen)").matches;
  }
  // iOS alone knows `standalone`, and keeps a tab's storage apart from the home-screen program's.
  get keepsPerApp() { return "standalone" in navigator; }

  async begin() {
    if (!("serviceWorker" in navigator)) return;
    try {
      const registration = await navigator.serviceWorker.register("sw.js", {scope: "./", updateViaCache: "none"});
      this.registration = registration;
      registration.addEventListener("updatefound", () => this.watch(registration.installing));
      this.watch(registration.installing);
      navigator.serviceWorker.addEventListener("controllerchange", () => {
        if (this.reloading) location.reload();
        else this.look();
      });
      navigator.serviceWorker.addEventListener("message", event => {
        if (event.data && event.data.complete !== undefined) {
          this.worksOffline = event.data.complete;
          this.changed();
        }
      });
      await navigator.serviceWorker.ready;
      this.look();
      const day = 24 * 3600 * 1000, last = Number(localStorage.getItem("steepbook.looked-for-newer") || 0);
      if (navigator.onLine && Math.abs(Date.now() - last) > day) {
        localStorage.setItem("steepbook.looked-for-newer", String(Date.now()));
        registration.update().catch(() => {});
      }
    } catch {   // Not a secure place, or storage is refused: the page works while it is open.
      this.changed();
    }
  }

  watch(worker) {
    if (worker) worker.addEventListener("statechange", () => this.look());
  }

  look() {
    const r = this.registration;
    if (!r) return;
    // Also found at the start: the page may have been closed while a newer version came.
    this.newerWaits = Boolean(r.waiting && navigator.serviceWorker.controller);
    if (r.active) r.active.postMessage("complete?");
    this.changed();
  }

  // At the next start of a page that does not run: this version may be what keeps it from running.
  async startNewer() {
    const registration = navigator.serviceWorker && await navigator.serviceWorker.getRegistration();
    if (registration && registration.waiting) registration.waiting.postMessage("go");
  }

  useNewer() {
    if (!this.registration || !this.registration.waiting) return;
    this.reloading = true;
    this.registration.waiting.postMessage("go");
  }
}
