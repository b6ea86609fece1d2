// Files in and out. Behind these: kiwix-js#964 (own files greyed out), filebrowser#2664 (share refuses
// the type), navidrome#1264 (no downloads in home-screen programs).
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Browser, check, equal } from '../harness.mjs';

export const suite = 'files';
export const needs = 'probe';

async function on(address, then, before) {
  const browser = await Browser.start();
  try {
    await then(await browser.open(address, { before }));
  } finally {
    await browser.close();
    browser.removeProfile();
  }
}
const file = async (page) => (await page.wait('Taps:…')).name.match(/file: (.*), trouble/)[1];

export const tests = [
  ['a chosen file arrives whole, and the same one a second time too', ({ address }) => on(address, async (page) => {
    const bytes = Buffer.alloc(300000, 7);
    for (let i = 0; i < 2; ++i) {
      await page.chooseFile('Choose a file', { name: 'day.steepbook', mimeType: '', buffer: bytes });
      await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('day.steepbook 300000')));
    }
    equal(await page.page.evaluate(() => document.querySelector('input[type=file]').accept), '', 'no list of endings');
  })],
  ['the real file input lies over the drawn button', ({ address }) => on(address, async (page) => {
    const item = await page.wait('Choose a file', ['file']);
    const [chooser] = await Promise.all([page.page.waitForEvent('filechooser'), page.tap('Choose a file')]);
    check(chooser, 'a finger opens the picker');
    equal(await file(page), 'none', 'no press without a file');
    check(item.rect[3] - item.rect[1] >= 48, 'large enough');
  })],
  ['a file of a gigabyte is refused kindly', async ({ address }) => {
    const big = path.join(os.tmpdir(), `steepbook-big-${process.pid}`);
    fs.writeFileSync(big, '');
    fs.truncateSync(big, 1 << 30);   // All zeros, and no room on the disk.
    try {
      await on(address, async (page) => {
        await page.chooseFile('Choose a file', big);
        await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('refused page.file.large')));
      });
    } finally {
      fs.rmSync(big);
    }
  }],
  ['a saved file is downloaded', ({ address }) => on(address, async (page) => {
    const { name, path: at } = await page.download('Save a file');
    equal(name, 'probe.txt', 'name');
    equal(fs.readFileSync(at, 'utf8'), 'hello', 'content');
  })],
  ['in a home-screen program without downloads the share sheet is used', ({ address }) => on(address, async (page) => {
    await page.press('Save a file');
    await page.page.waitForFunction(() => globalThis.shared);
    equal(await page.page.evaluate(() => globalThis.shared), 'probe.txt', 'shared');
  }, () => {
    Object.defineProperty(navigator, 'standalone', { value: true });
    navigator.canShare = () => true;
    navigator.share = async ({ files }) => { globalThis.shared = files[0].name; };
  })],
  ['a dropped file is taken', ({ address }) => on(address, async (page) => {
    await page.page.evaluate(() => {
      const data = new DataTransfer();
      data.items.add(new File(['x'], 'dropped.steepbook'));
      document.getElementById('ui').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    });
    await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('file: dropped dropped.steepbook')));
  })],
];
