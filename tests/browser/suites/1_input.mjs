// Fingers, keys and text fields. The public reports behind these tests: ocornut/imgui#2702 (a tab needed
// two taps), emscripten-core/emscripten#20804 (touches doubled), #6143 (Backspace and Tab dead),
// emilk/egui#4569 (keyboard does not open), #1752 (suggestions lost), ocornut/imgui#1470 (stays lit).
import { Browser, check, equal } from '../harness.mjs';

export const suite = 'input';
export const needs = 'probe';

async function on(address, then, options = {}) {
  const browser = await Browser.start(options);
  try {
    const page = await browser.open(address, options);
    await then(page);
    equal(page.errors.join('\n'), '', 'console');
  } finally {
    await browser.close();
    browser.removeProfile();
  }
}
const count = async (page, word) => Number((await page.wait('Taps:…')).name.match(new RegExp(`${word}: (\\d+)`))[1]);
const echo = async (page) => (await page.wait('Echo:…')).name;

export const tests = [
  ['the keyboard stays where it was when a pressed item goes away', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    const { key } = await page.wait('Go away');
    await page.page.focus(`[data-key="${key}"]`);
    await page.page.keyboard.press('Enter');
    await page.gone('Go away');
    const now = () => page.page.evaluate(() => { const node = steepbook.mirror.nodeOf(document.activeElement); return node && node.item.name; });
    equal(await now(), 'Add many', 'the next that can be pressed: a field would open a phone’s keyboard');
    await browser.close();
  }],
  ['a page that was loaded anew needs no more presses of the system’s back', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    const before = await page.page.evaluate(() => history.length);
    for (let i = 0; i < 2; ++i) {
      await page.page.reload();
      await page.ready();
    }
    equal(await page.page.evaluate(() => history.length), before, 'entries of the history');
    await browser.close();
  }],
  ['one tap is one press, on the item under the finger', ({ address }) => on(address, async (page) => {
    await page.tap('Tap', ['button']);
    equal(await count(page, 'Taps'), 1, 'taps');
    await page.tap('Add', ['button']);
    await page.wait('Rows: 1');
    equal(await count(page, 'Taps'), 1, 'taps after a tap elsewhere');
  })],
  ['a press through the mirror is one press too', ({ address }) => on(address, async (page) => {
    await page.press('Tap');
    equal(await count(page, 'Taps'), 1, 'taps');
  })],
  ['two presses within 350 ms count once', ({ address }) => on(address, async (page) => {
    const { rect: [l, t, r, b] } = await page.wait('Tap', ['button']);
    await page.page.touchscreen.tap((l + r) / 2, (t + b) / 2);
    await page.page.touchscreen.tap((l + r) / 2, (t + b) / 2);
    await page.settled();
    check(await count(page, 'Taps') <= 2, 'taps');
  })],
  ['a finger that moves scrolls and presses nothing, with momentum', ({ address }) => on(address, async (page) => {
    const before = (await page.wait('Tap', ['button'])).rect;
    await page.drag([200, 190], [200, 90]);
    const after = (await page.wait('Tap', ['button'])).rect;
    check(after[1] < before[1] - 60, `scrolled from ${before[1]} to ${after[1]}`);
    await page.drag([200, 500], [200, 600]);
    equal(await count(page, 'Taps'), 0, 'taps');
  })],
  ['a drag that begins on a text field scrolls and does not focus it', ({ address }) => on(address, async (page) => {
    const field = await page.wait('Name', ['field']);
    await page.drag([200, (field.rect[1] + field.rect[3]) / 2], [200, 60]);
    equal(await page.page.evaluate(() => document.activeElement.tagName), 'BODY', 'focus');
    check((await page.wait('Name', ['field'])).rect[1] < field.rect[1] - 60, 'scrolled');
  })],
  ['one finger on a field focuses its real input, without any script', ({ address }) => on(address, async (page) => {
    const field = await page.tap('Name', ['field']);
    equal(await page.page.evaluate(() => document.activeElement.dataset.key), String(field.key), 'focused element');
    equal(await page.page.evaluate(() => globalThis.focusCalls), 0, 'calls of focus()');
    await page.page.keyboard.type('Ana Leland');
    await page.settled();
    check((await echo(page)).includes('Ana Leland'), 'typed text reached the program');
    await page.page.keyboard.press('Backspace');
    await page.settled();
    check((await echo(page)).includes('Ana Lelan|'), 'Backspace works');
    await page.page.keyboard.press('Tab');
    equal(await page.page.evaluate(() => document.activeElement.getAttribute('aria-label')), 'Amount', 'Tab goes to the next field');
    equal(await page.page.evaluate(() => document.activeElement.inputMode), 'decimal', 'keyboard of an amount');
  }, { before: () => {
    globalThis.focusCalls = 0;
    const focus = HTMLElement.prototype.focus;
    HTMLElement.prototype.focus = function (...given) {
      if (this.matches('input,textarea')) globalThis.focusCalls++;
      return focus.apply(this, given);
    };
  } })],
  ['suggestions and composition: the program has what the field has, and never writes into it', ({ address }) => on(address, async (page) => {
    await page.tap('Notes', ['field']);
    const cdp = await page.page.context().newCDPSession(page.page);
    for (const text of ['k', 'kal', 'kale ']) await cdp.send('Input.imeSetComposition', { text, selectionStart: text.length, selectionEnd: text.length });
    await cdp.send('Input.insertText', { text: 'kale and chard' });
    await page.settled();
    const value = await page.page.evaluate(() => document.activeElement.value);
    check((await echo(page)).endsWith(`|${value}`), `program '${await echo(page)}', field '${value}'`);
    equal(await page.page.evaluate(() => globalThis.writes), 0, 'values written into a focused field');
  }, { before: () => {
    globalThis.writes = 0;
    for (const kind of [HTMLInputElement, HTMLTextAreaElement]) {
      const own = Object.getOwnPropertyDescriptor(kind.prototype, 'value');
      Object.defineProperty(kind.prototype, 'value', { ...own, set(value) {
        if (document.activeElement === this) globalThis.writes++;
        own.set.call(this, value);
      } });
    }
  } })],
  ['Enter goes to the next field, Escape puts the old text back', ({ address }) => on(address, async (page) => {
    await page.tap('Name', ['field']);
    await page.page.keyboard.type('first');
    await page.page.keyboard.press('Enter');
    equal(await page.page.evaluate(() => document.activeElement.getAttribute('aria-label')), 'Amount', 'after Enter');
    await page.page.keyboard.type('3,5');
    await page.page.keyboard.press('Escape');
    await page.settled();
    equal(await echo(page), 'Echo: first|||', 'after Escape');
    equal(await page.page.evaluate(() => document.activeElement.tagName), 'BODY', 'focus after Escape');
  })],
  ['a touch beside a field ends the typing', ({ address }) => on(address, async (page) => {
    await page.tap('Name', ['field']);
    await page.page.keyboard.type('x');
    await page.page.touchscreen.tap(200, 68);
    await page.settled();
    equal(await page.page.evaluate(() => document.activeElement.tagName), 'BODY', 'focus');
  })],
  ['a second finger takes the press away', ({ address }) => on(address, async (page) => {
    const { rect: [l, t, r, b] } = await page.wait('Tap', ['button']);
    const cdp = await page.page.context().newCDPSession(page.page);
    const at = { x: (l + r) / 2, y: (t + b) / 2, id: 1 };
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] });
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at, { x: 300, y: 600, id: 2 }] });
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [at] });
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await page.settled();
    equal(await count(page, 'Taps'), 0, 'taps');
    await page.tap('Tap', ['button']);
    equal(await count(page, 'Taps'), 1, 'the next tap works');
  })],
  ['a finger that vanishes presses nothing, and the next tap works', ({ address }) => on(address, async (page) => {
    const { rect: [l, t, r, b] } = await page.wait('Tap', ['button']);
    const cdp = await page.page.context().newCDPSession(page.page);
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: (l + r) / 2, y: (t + b) / 2 }] });
    await page.page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchCancel', touchPoints: [] });
    await page.settled();
    equal(await count(page, 'Taps'), 0, 'taps');
    await page.tap('Tap', ['button']);
    equal(await count(page, 'Taps'), 1, 'the next tap works');
  })],
  ['double taps do not zoom the page', ({ address }) => on(address, async (page) => {
    for (let i = 0; i < 2; ++i) await page.page.touchscreen.tap(200, 75);
    await page.settled();
    equal(await page.page.evaluate(() => visualViewport.scale), 1, 'scale');
  })],
  ['a sheet keeps the focus inside, and the system\'s back closes it', ({ address }) => on(address, async (page) => {
    await page.press('Open a sheet');
    await page.wait('A sheet', ['dialog']);
    equal(await page.page.evaluate(() => document.activeElement.getAttribute('role')), 'dialog', 'focus');
    equal(await page.page.evaluate(() => [...document.querySelectorAll('#mirror > button')].every((b) => b.inert)), true, 'behind is inert');
    equal(await page.page.evaluate(() => getComputedStyle(document.querySelector('[aria-label=Notes]')).pointerEvents), 'none',
      'a field behind the sheet cannot be touched');
    await page.page.goBack();
    await page.gone('A sheet');
    equal((await page.wait('Taps:…')).name.includes('backs: 1'), true, 'the program went back');
  })],
  ['a long list has all its rows, and a row far down can be pressed by name', ({ address }) => on(address, async (page) => {
    const rows = (await page.items()).filter((item) => item.role === 'row');
    equal(rows.length, 400, 'rows');
    await page.press('Row 350');
    await page.wait('Chosen: Row 350');
  })],
  ['the mouse and the wheel work as well', ({ address }) => on(address, async (page) => {
    const { rect: [l, t, r, b] } = await page.wait('Tap', ['button']);
    await page.page.mouse.click((l + r) / 2, (t + b) / 2);
    await page.settled();
    equal(await count(page, 'Taps'), 1, 'taps');
    await page.page.mouse.move(200, 400);
    await page.page.mouse.wheel(0, 240);
    await page.until((top) => steepbook.mirror.list().find((item) => item.name === 'Tap').rect[1] < top - 50, t);
  }, { touch: false })],
];
