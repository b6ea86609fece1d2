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
  ['a dropped file that is too large is told, and the next chosen one is itself', ({ address }) => on(address, async (page) => {
    await page.page.evaluate(() => {
      const huge = new File(['x'], 'huge.steepbook');
      Object.defineProperty(huge, 'size', { value: 1 << 30 });
      const drop = new Event('drop', { bubbles: true, cancelable: true });
      drop.dataTransfer = { files: [huge] };
      document.getElementById('ui').dispatchEvent(drop);
    });
    await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('file: unread page.file.large')));
    await page.chooseFile('Choose a file', { name: 'next.steepbook', mimeType: '', buffer: Buffer.alloc(10) });
    await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('next.steepbook 10')));
  })],
  ['a file that is slow to read is not taken for the one chosen after it', ({ address }) => on(address, async (page) => {
    await page.page.evaluate(() => {
      const read = Blob.prototype.arrayBuffer;
      Blob.prototype.arrayBuffer = async function () {
        if (this.name === 'slow') await new Promise((then) => { globalThis.go = then; });
        return read.call(this);
      };
    });
    for (const name of ['slow', 'quick']) await page.chooseFile('Choose a file', { name, mimeType: '', buffer: Buffer.alloc(3) });
    await page.page.evaluate(() => go());
    await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('file: quick 3')));
    await page.chooseFile('Choose a file', { name: 'third', mimeType: '', buffer: Buffer.alloc(4) });
    await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('file: third 4')));
  })],
  ['files from the share sheet come one by one, none is lost', ({ address }) => on(address, async (page) => {
    await page.worksOffline();
    await page.page.reload();   // Now the service worker answers for the page.
    await page.ready();
    await page.page.evaluate(async () => {
      const form = new FormData();
      for (const name of ['día 1.steepbook', 'day 2.steepbook']) form.append('file', new File(['x'], name));
      await fetch('take-shared', { method: 'POST', body: form });
    });
    const names = [];
    for (let i = 0; i < 2; ++i) {
      await page.page.goto(`${address}?shared`);
      await page.ready();
      await page.page.waitForFunction(() => steepbook.mirror.list().some((item) => item.name.includes('file: dropped')));
      names.push((await file(page)).replace('dropped ', ''));
    }
    equal(names.sort().join(), 'day 2.steepbook,día 1.steepbook', 'files taken');
    await page.page.reload();
    await page.ready();
    equal(await file(page), 'none', 'no file comes twice');
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
