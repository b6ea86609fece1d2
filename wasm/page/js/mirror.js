"use strict";
// The item tree as real elements over the canvas, in reading order: what screen readers, the keyboard,
// switch and voice control, and browser tests work with. Two kinds take the pointer themselves: text
// inputs, which lie there before they are touched, so that the finger itself gives them focus and the
// phone opens its keyboard; and file inputs, since only a real one may open the picker. All others let
// the pointer through to the canvas. An assistive click is a command to the item, not to a place.

const kRoles = ["heading", "text", "button", "tab", "choice", "check", "row", "field", "file", "dialog", "status", "alert"];
const kFieldKinds = ["text", "code", "decimal", "integer", "lines", "secret"];
const kPickKinds = ["file", "photo", "camera"];

class Mirror {
  constructor(root, program) {
    this.root = root;          // #mirror
    this.program = program;    // press(id), type(id, text, done), reveal(id), focus(id), file(id, File, kind)
    this.nodes = new Map();    // key → record; key = id, or id + '/' + n when an id comes again
    this.order = [];
    this.count = 0;            // Reconciliations, for the tests.
    this.decoder = new TextDecoder();
    this.fresh = new Set();
    this.heading = "";
    root.addEventListener("focusin", event => this.focused(event));
    root.addEventListener("focusout", event => this.left(event));
  }

  // ---- Wire ----

  read(bytes) {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    let at = 4;
    const text = () => {
      const size = view.getUint32(at, true);
      at += 4 + size;
      return this.decoder.decode(bytes.subarray(at - size, at));
    };
    const items = [], seen = new Map();
    for (let n = view.getUint32(0, true); n > 0; --n) {
      const id = view.getUint32(at, true), sent = bytes[at + 4];
      at += 5;
      const again = seen.get(id) || 0;
      seen.set(id, again + 1);
      const item = {id, key: again ? `${id}/${again}` : id, sent};
      if (sent) {
        item.role = kRoles[bytes[at]];
        item.kind = (item.role === "file" ? kPickKinds : kFieldKinds)[bytes[at + 1]];
        const flags = bytes[at + 2];
        item.enabled = (flags & 1) !== 0;
        item.on = (flags & 2) !== 0;
        item.drawn = (flags & 4) !== 0;
        item.rect = [0, 4, 8, 12].map(i => view.getFloat32(at + 3 + i, true));
        item.fontPx = view.getFloat32(at + 19, true);
        item.maxLength = view.getUint32(at + 23, true);
        at += 27;
        item.name = text();
        item.value = text();
        item.error = text();
      }
      items.push(item);
    }
    return items;
  }

  show(bytes) {
    const items = this.read(bytes), nodes = new Map();
    this.count++;
    let parent = this.root;
    const children = new Map([[this.root, []]]);
    for (const item of items) {
      let node = this.nodes.get(item.key);
      if (item.sent) {
        if (node && (node.item.role !== item.role || (node.item.kind === "lines") !== (item.kind === "lines") ||
                     (item.role === "file" && node.item.kind !== item.kind))) node = undefined;
        if (!node) node = this.make(item);
        this.dress(node, item);
      }
      if (!node) continue;
      nodes.set(item.key, node);
      children.get(parent).push(node.element);
      if (node.item.role === "dialog") {
        parent = node.element;
        children.set(parent, []);
      }
    }
    const gone = [...this.nodes.values()].filter(node => nodes.get(node.item.key) !== node);
    const left = this.placeOf(gone.find(node => node.element === document.activeElement));
    for (const [into, list] of children) this.arrange(into, list);
    for (const node of gone) node.element.remove();
    this.nodes = nodes;
    this.guard(parent);
    this.announceScreen(items);
    if (left >= 0 && document.activeElement === document.body) this.focusAt(left);
  }

  // Where among all items a person is whose item goes, −1 when nobody is there.
  placeOf(node) {
    return node ? [...this.nodes.values()].indexOf(node) : -1;
  }
  // The item that took its place, else the next one before: who works by keyboard is not sent back to the start of the page.
  focusAt(place) {
    const nodes = [...this.nodes.values()];
    const fits = node => node.element.tagName === "BUTTON" && !node.element.inert && !node.element.classList.contains("away");
    const to = nodes.slice(place).find(fits) || nodes.slice(0, place).reverse().find(fits);
    if (to) to.element.focus({preventScroll: true});
  }

  // Brings the children into order without moving the focused one: moving would take its focus.
  arrange(parent, list) {
    const focused = document.activeElement;
    let cursor = parent.firstChild;
    for (const element of list) {
      if (cursor === element) {
        cursor = cursor.nextSibling;
      } else if (element.parentNode === parent && element.contains(focused)) {
        while (cursor && cursor !== element) {
          const next = cursor.nextSibling;
          parent.append(cursor);
          cursor = next;
        }
        cursor = element.nextSibling;
      } else {
        parent.insertBefore(element, cursor);
      }
    }
  }

  // With a sheet open, focus stays inside it and goes back where it was afterwards.
  guard(top) {
    for (const node of this.nodes.values()) {
      const behind = top !== this.root && !top.contains(node.element) && !node.element.contains(top);
      if (node.element.inert !== behind) node.element.inert = behind;
    }
    if (top !== this.root && this.dialog !== top) {
      if (!this.dialog) this.before = this.keyOf(document.activeElement);
      top.focus({preventScroll: true});
    } else if (top === this.root && this.dialog) {
      const back = this.nodes.get(this.before);
      if (back && back.item.role !== "field" && back.item.role !== "file") back.element.focus({preventScroll: true});
    }
    this.dialog = top === this.root ? null : top;
  }

  // A new screen: focus goes to its heading, unless a person is typing.
  announceScreen(items) {
    const first = items.map(item => this.nodes.get(item.key)).find(node => node && node.item.role === "heading");
    const name = first ? first.item.name : "";
    if (name === this.heading) return;
    const before = this.heading;
    this.heading = name;
    const active = document.activeElement;
    const typing = active && active !== document.body && this.root.contains(active) && active.matches("input,textarea");
    if (first && before && !typing && !this.dialog) first.element.focus({preventScroll: true});
  }

  keyOf(element) {
    for (const [key, node] of this.nodes) if (node.element === element) return key;
    return null;
  }
  nodeOf(element) {
    const key = element && element.dataset ? element.dataset.key : undefined;
    return key === undefined ? null : this.nodes.get(/\//.test(key) ? key : Number(key)) || null;
  }

  // ---- Elements ----

  make(item) {
    const element = document.createElement(
      {heading: "h2", text: "p", field: item.kind === "lines" ? "textarea" : "input", file: "input", dialog: "section",
       status: "div", alert: "div"}[item.role] || "button");
    const node = {element, item: {...item, name: null, value: null, error: null}, atFocus: "", help: null, composing: false};
    element.dataset.key = item.key;
    element.dataset.role = item.role;
    switch (item.role) {
      case "heading": element.tabIndex = -1; break;
      case "choice": element.setAttribute("role", "radio"); break;
      case "check": element.setAttribute("role", "checkbox"); break;
      case "status": element.setAttribute("role", "status"); break;
      case "alert": element.setAttribute("role", "alert"); break;
      case "dialog":
        element.setAttribute("role", "dialog");
        element.setAttribute("aria-modal", "true");
        element.tabIndex = -1;
        break;
      case "field": this.makeField(node); break;
      case "file":
        element.type = "file";   // No `accept` for files: phones grey out endings that they don't know.
        if (item.kind !== "file") element.accept = "image/*";
        if (item.kind === "camera") element.setAttribute("capture", "environment");   // Without it some phones offer no camera.
        element.addEventListener("change", () => this.chosen(node));
        break;
    }
    if (element.tagName === "BUTTON") {
      element.type = "button";
      element.addEventListener("click", () => this.program.press(node.item.id));
    }
    return node;
  }

  makeField(node) {
    const {element} = node;
    if (element.tagName === "INPUT") element.type = "text";   // Never 'number': it swallows '1,5'.
    element.autocomplete = "off";
    element.addEventListener("compositionstart", () => { node.composing = true; });
    element.addEventListener("compositionend", () => { node.composing = false; });
    element.addEventListener("input", () => this.program.type(node.item.id, element.value, false));
    element.addEventListener("keydown", event => {
      if (event.isComposing || node.composing) return;
      if (event.key === "Enter" && element.tagName === "INPUT") {
        event.preventDefault();
        const next = this.fieldAfter(node);
        if (next) next.element.focus();   // In the key's own handler: the keyboard stays up.
        else element.blur();
      } else if (event.key === "Escape") {
        event.preventDefault();
        element.value = node.atFocus;
        this.program.type(node.item.id, node.atFocus, false);
        element.blur();
      }
    });
  }

  fieldAfter(node) {
    const fields = [...this.nodes.values()].filter(n => n.item.role === "field" && n.item.enabled && !n.element.inert);
    fields.sort((a, b) => (a.element.compareDocumentPosition(b.element) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1));
    return fields[fields.indexOf(node) + 1] || null;
  }

  dress(node, item) {
    const {element, item: was} = node;
    if (was.name !== item.name || was.value !== item.value || was.on !== item.on || was.enabled !== item.enabled || was.error !== item.error) {
      this.name(node, item);
    }
    if (item.role !== "dialog") this.place(element, item);   // A sheet's element has no box: its items have.
    node.item = item;
    if (item.role === "field") this.dressField(node, item);
  }

  name(node, item) {
    const {element} = node, full = item.role !== "field" && item.value ? `${item.name}, ${item.value}` : item.name;
    switch (item.role) {
      case "heading": case "text": case "status": case "alert":
        if (element.textContent !== full) element.textContent = full;   // A live region speaks on change alone.
        break;
      case "field": case "file": case "dialog":
        element.setAttribute("aria-label", full);
        break;
      default:
        if (element.textContent !== full) element.textContent = full;
    }
    const set = (name, value) => (value === null ? element.removeAttribute(name) : element.setAttribute(name, value));
    if (item.role === "tab") set("aria-current", item.on ? "page" : null);
    if (item.role === "choice" || item.role === "check") set("aria-checked", String(item.on));
    if (item.role === "button" || item.role === "row") set("aria-pressed", item.on ? "true" : null);
    if (item.role === "field" || item.role === "file") element.disabled = !item.enabled;
    else if (element.tagName === "BUTTON") set("aria-disabled", item.enabled ? null : "true");
  }

  place(element, item) {
    const [left, top, right, bottom] = item.rect;
    const there = item.drawn && right > left && bottom > top;
    element.classList.toggle("away", !there);   // Spoken and reached by Tab, but never under a finger.
    if (!there) return;
    const style = element.style;
    const set = (name, value) => { if (style[name] !== value) style[name] = value; };
    set("left", `${left}px`);
    set("top", `${top}px`);
    set("width", `${right - left}px`);
    set("height", `${bottom - top}px`);
  }

  dressField(node, item) {
    const {element} = node;
    const set = (name, value) => { if (element.getAttribute(name) !== value) element.setAttribute(name, value); };
    set("inputmode", {decimal: "decimal", integer: "numeric"}[item.kind] || "text");
    const secret = item.kind === "secret", plain = secret || item.kind === "code" || item.kind === "decimal" || item.kind === "integer";
    if (element.tagName === "INPUT" && (element.type === "password") !== secret) element.type = secret ? "password" : "text";
    set("autocapitalize", secret || item.kind === "code" ? "off" : "sentences");
    set("autocorrect", plain ? "off" : "on");
    set("spellcheck", plain ? "false" : "true");
    set("enterkeyhint", item.kind === "lines" ? "enter" : "next");
    set("aria-invalid", item.error ? "true" : "false");
    if (item.error) set("aria-description", item.error); else element.removeAttribute("aria-description");
    if (item.maxLength > 0) element.maxLength = item.maxLength * 2;   // Code points at most; the program counts exactly.
    else element.removeAttribute("maxlength");
    const px = `${Math.max(16, item.fontPx)}px`;   // Below 16 phones zoom into the page.
    if (element.style.fontSize !== px) element.style.fontSize = px;
    // The element is the master while a person is in it.
    if (document.activeElement !== element && !node.composing && element.value !== item.value) element.value = item.value;
  }

  // ---- Events ----

  focused(event) {
    const node = this.nodeOf(event.target);
    if (!node) return;
    this.program.focus(node.item.id);
    if (node.item.role === "field") {
      node.atFocus = node.element.value;
      node.element.classList.add("on");
    }
    if (node.element.classList.contains("away")) this.program.reveal(node.item.id);
  }

  left(event) {
    const node = this.nodeOf(event.target);
    if (!node) return;
    this.program.focus(0);
    if (node.item.role !== "field") return;
    node.element.classList.remove("on");
    node.composing = false;
    this.program.type(node.item.id, node.element.value, true);
  }

  chosen(node) {
    const file = node.element.files && node.element.files[0];
    node.element.value = "";   // Else the same file chosen twice says nothing.
    if (file) this.program.file(node.item.id, file, node.item.kind);
  }

  // What the program wrote meanwhile shows once the person has left.
  settle() {
    for (const node of this.nodes.values()) {
      if (node.item.role === "field" && document.activeElement !== node.element && !node.composing &&
          node.element.value !== node.item.value) {
        node.element.value = node.item.value;
      }
    }
  }

  // For the tests: what is on screen.
  list() {
    return [...this.nodes.values()].map(node => ({...node.item, sent: undefined}));
  }
}
