// Frames, sharpness, and the graphics context that phones take away (maplibre/maplibre-gl-js#3241).
import { Browser, check, equal } from '../harness.mjs';

export const suite = 'drawing';
export const needs = 'probe';

async function on(address, then, options = {}) {
  const browser = await Browser.start(options);
  try {
    const page = await browser.open(address);
    await then(page, browser);
  } finally {
    await browser.close();
    browser.removeProfile();
  }
}

export const tests = [
  ['a page at rest draws nothing; a clock draws once a tick', ({ address }) => on(address, async (page) => {
    await page.worksOffline();
    await page.settled();
    await page.page.waitForTimeout(500);
    const before = await page.frames();
    await page.page.waitForTimeout(4000);
    equal(await page.frames() - before, 0, 'frames in 4 s');
    await page.press('Clock');
    await page.settled();
    const ticking = await page.frames();
    await page.page.waitForTimeout(4000);
    const ticks = await page.frames() - ticking;
    check(ticks >= 2 && ticks <= 5, `frames in 4 s of a clock of seconds: ${ticks}`);
  })],
  ['a tap draws a handful of frames', ({ address }) => on(address, async (page) => {
    await page.worksOffline();
    await page.settled();
    const before = await page.frames();
    await page.tap('Tap', ['button']);
    const drawn = await page.frames() - before;
    check(drawn >= 2 && drawn <= 12, `frames of a tap: ${drawn}`);
  })],
  ...[1, 1.5, 2.625, 3].map((density) => [`the picture has the device's own pixels at ${density}`, ({ address }) => on(address, async (page) => {
    const size = await page.page.evaluate(() => {
      const canvas = document.getElementById('canvas');
      return [canvas.width, canvas.height];
    });
    check(Math.abs(size[0] - 390 * density) <= 1 && Math.abs(size[1] - 844 * density) <= 1, `backing ${size} at ${density}`);
  }, { density })]),
  ['turning the phone draws anew in the other shape', ({ address }) => on(address, async (page) => {
    await page.page.setViewportSize({ width: 844, height: 390 });
    await page.page.waitForFunction(() => document.getElementById('canvas').width === 1688);
    await page.settled();
    const { rect } = await page.wait('Tap', ['button']);
    check(rect[2] > 500, 'items follow');
  })],
  ['the context lost and given back: same picture, and taps meanwhile press nothing', ({ address }) => on(address, async (page) => {
    await page.worksOffline();
    await page.settled();
    const before = await page.page.screenshot();
    await page.page.evaluate(() => {
      const gl = document.getElementById('canvas').getContext('webgl2');
      globalThis.loser = gl.getExtension('WEBGL_lose_context');
      loser.loseContext();
    });
    await page.page.waitForFunction(() => steepbook.lost);
    const { rect: [l, t, r, b] } = await page.wait('Tap', ['button']);
    await page.page.touchscreen.tap((l + r) / 2, (t + b) / 2);
    await page.page.evaluate(() => loser.restoreContext());
    await page.page.waitForFunction(() => !steepbook.lost);
    await page.settled();
    const after = await page.page.screenshot();
    check(before.equals(after), 'the picture is the same, so no tap was counted');
    await page.tap('Tap', ['button']);
    await page.wait('Taps: 1…');
  })],
  ['a context that does not come back gets a new canvas', ({ address }) => on(address, async (page) => {
    await page.page.evaluate(() => document.getElementById('canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext());
    await page.page.waitForFunction(() => steepbook.lost);
    await page.page.waitForFunction(() => !steepbook.lost, undefined, { timeout: 15000 });
    await page.tap('Tap', ['button']);
    await page.wait('Taps: 1…');
  })],
  ['the theme follows the system', ({ address }) => on(address, async (page) => {
    const ground = () => page.page.evaluate(() => document.querySelector('meta[name=theme-color]').content);
    const day = await ground();
    await page.page.emulateMedia({ colorScheme: 'dark' });
    await page.page.waitForFunction((was) => document.querySelector('meta[name=theme-color]').content !== was, day);
    await page.settled();
    check(await ground() !== day, 'another ground');
  })],
];
