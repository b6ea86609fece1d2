"use strict";
// Fingers, mouse, pen, wheel and keys, taken on the root element, and handed to the program as they
// are: what is a tap, a scroll or a hold is decided there, on every front end alike.

const kKeys = ["Escape", "Enter", "/", "ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "PageUp", "PageDown", "Home", "End", "z"];
const kSlop = 12;           // CSS pixels a finger may roll and still tap.
const kLargestTouch = 80;   // A palm or a film of water, not a fingertip.

class Input {
  constructor(root, program) {
    this.root = root;
    this.program = program;   // pointer, pointerCancelled, wheel, pinch, key, blurField, isDeaf
    this.first = null;        // The finger that counts: {id, x, y, touch}
    this.others = new Map();
    this.swallow = false;
    this.pinch = 0;
    const on = (name, then, options) => root.addEventListener(name, then, options);
    on("pointerdown", event => this.down(event));
    on("pointermove", event => this.move(event));
    on("pointerup", event => this.up(event));
    on("pointercancel", event => this.cancel(event));
    on("pointerleave", event => { if (event.pointerType === "mouse" && !this.first) this.program.pointer(3, false, 0, 0); });
    on("lostpointercapture", event => {   // Of the root itself; an input's own ends when the root takes it.
      if (event.target === root && this.first && this.first.id === event.pointerId) this.reset();
    });
    on("wheel", event => this.wheel(event), {passive: false});
    on("contextmenu", event => { if (!event.target.matches("input,textarea")) event.preventDefault(); });
    on("gesturestart", event => event.preventDefault());
    addEventListener("keydown", event => this.key(event, true));
    addEventListener("keyup", event => this.key(event, false));
    addEventListener("blur", () => this.reset());
  }

  place(event) {
    const box = this.root.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  down(event) {
    if (this.program.isDeaf()) return;
    if (event.pointerType === "mouse" && event.button !== 0) return;
    const [x, y] = this.place(event), touch = event.pointerType !== "mouse";
    if (touch && Math.max(event.width, event.height) > kLargestTouch) return;
    if (this.first) {   // A second finger: no press any more; on the map the two mean something.
      this.others.set(event.pointerId, [x, y]);
      this.program.pointerCancelled();
      this.swallow = true;
      this.pinch = this.spread();
      return;
    }
    const field = event.target.closest("input,textarea");
    // A finger elsewhere ends the typing. The browser would keep the focus: the canvas takes none.
    if (!field) this.program.blurField();
    this.first = {id: event.pointerId, x, y, startX: x, startY: y, touch, field, sent: !field, moved: false};
    this.swallow = false;
    if (!field) {
      try { this.root.setPointerCapture(event.pointerId); } catch { /* already gone */ }
      this.program.pointer(1, touch, x, y);
    }
  }

  move(event) {
    const [x, y] = this.place(event);
    if (!this.first) {
      if (event.pointerType === "mouse" && !this.program.isDeaf()) this.program.pointer(0, false, x, y);
      return;
    }
    if (this.others.has(event.pointerId)) {
      this.others.set(event.pointerId, [x, y]);
    } else if (event.pointerId !== this.first.id) {
      return;
    }
    if (event.pointerId === this.first.id) {
      this.first.x = x;
      this.first.y = y;
    }
    if (this.others.size > 0) {
      const spread = this.spread();
      if (this.pinch > 0 && spread > 0) this.program.pinch(this.middle(), spread / this.pinch);
      this.pinch = spread;
      return;
    }
    if (this.swallow) return;
    const f = this.first;
    if (f.field && !f.sent) {
      // A drag that begins on an input scrolls, like one beside it, and does not focus it.
      if (!f.touch || f.field === document.activeElement || Math.hypot(x - f.startX, y - f.startY) <= kSlop) return;
      f.sent = true;
      try { this.root.setPointerCapture(event.pointerId); } catch { /* already gone */ }
      this.program.pointer(1, true, f.startX, f.startY);
    }
    this.program.pointer(0, f.touch, x, y);
  }

  up(event) {
    if (this.others.delete(event.pointerId)) return;
    if (!this.first || event.pointerId !== this.first.id) return;
    const f = this.first, [x, y] = this.place(event);
    this.first = null;
    if (this.swallow || !f.sent) return;
    this.program.pointer(2, f.touch, x, y);
    if (f.touch) this.program.pointer(3, true, 0, 0);   // After the button: nothing stays lit.
  }

  cancel(event) {
    if (this.others.delete(event.pointerId)) return;
    if (this.first && event.pointerId === this.first.id) this.reset();
  }

  // The finger may vanish without a word (an edge swipe, a switch of programs).
  reset() {
    if (this.first && this.first.sent) this.program.pointerCancelled();
    this.first = null;
    this.others.clear();
    this.swallow = false;
  }

  spread() {
    const [other] = this.others.values();
    return this.first && other ? Math.hypot(this.first.x - other[0], this.first.y - other[1]) : 0;
  }
  middle() {
    const [other] = this.others.values();
    return [(this.first.x + other[0]) / 2, (this.first.y + other[1]) / 2];
  }

  wheel(event) {
    event.preventDefault();
    if (this.program.isDeaf()) return;
    const [x, y] = this.place(event);
    if (event.ctrlKey) {
      this.program.pinch([x, y], Math.exp(-event.deltaY / 100));
      return;
    }
    const pixels = event.deltaMode === 1 ? event.deltaY * 20 : event.deltaMode === 2 ? event.deltaY * 400 : event.deltaY;
    this.program.wheel(x, y, -pixels / 60);   // The program scrolls 60 dp a step.
  }

  key(event, down) {
    const active = document.activeElement;
    if (active && active.matches("input:not([type=file]),textarea")) return;   // The browser's.
    const key = kKeys.indexOf(event.key);
    if (key < 0 || event.altKey || event.metaKey) return;
    if (event.key === "z" ? !event.ctrlKey : event.ctrlKey) return;
    // Enter on a focused element is its click, made by the browser.
    if (event.key === "Enter" && active && active.matches("button,input")) return;
    if (down && event.key !== "Enter") event.preventDefault();
    this.program.key(key, down, event.ctrlKey);
  }
}
