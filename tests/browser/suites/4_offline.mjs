// The program itself: on the device after one visit, newer versions only when a person says so.
// Behind these: openGym#274 (white screen on a dead network), vaadin/flow#24807 (update kills the page).
import crypto from 'node:crypto';
import fs from 'node:fs';
import http from 'node:http';
import os from 'node:os';
import path from 'node:path';
import zlib from 'node:zlib';
import { Browser, check, equal, serve } from '../harness.mjs';

export const suite = 'offline';
export const needs = 'probe';

/** Makes another version of a folder's page: another name everywhere, and another sum of the page that carries it. */
function rename(folder, old, name) {
  const write = (file, text) => {
    fs.writeFileSync(path.join(folder, file), text);
    // Its compressed forms are those of the old version still.
    for (const form of ['.br', '.gz']) fs.rmSync(path.join(folder, file + form), { force: true });
  };
  const renamed = (file) => fs.readFileSync(path.join(folder, file), 'utf8').replaceAll(old, name);
  const page = renamed('index.html'), sum = crypto.createHash('sha256').update(page).digest('hex');
  write('index.html', page);
  write('sw.js', renamed('sw.js').replace(/(\["index.html",")[0-9a-f]+/, `$1${sum}`));
}

export const tests = [
  ['after one visit it starts without network, also in a new browser', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    const page = await browser.open(address);
    await page.worksOffline();
    await browser.offline(true);
    await page.page.reload();
    await page.ready();
    await browser.close();
    const again = await Browser.start({ profile: browser.profile });
    await again.offline(true);
    await again.open(address);
    await again.close();
    again.removeProfile();
  }],
  ['it starts as fast on a server that accepts and never answers', async ({ address, server }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.worksOffline();
    server.stall(true);
    const begun = Date.now();
    await page.page.reload();
    await page.ready();
    check(Date.now() - begun < 10000, `started after ${Date.now() - begun} ms`);
    server.stall(false);
    await browser.close();
    browser.removeProfile();
  }],
  ['a newer version waits; the old one goes on, also offline; it starts when asked to, with the same book', async ({ pages }) => {
    const copy = fs.mkdtempSync(path.join(os.tmpdir(), 'steepbook-pages-'));
    fs.cpSync(pages, copy, { recursive: true });
    const server = await serve(copy);
    const browser = await Browser.start();
    const page = await browser.open(server.address);
    await page.press('Add');
    await page.wait('State: Saved', ['status']);
    await page.worksOffline();
    const version = () => page.page.evaluate(() => steepbook.version);
    const old = await version();
    rename(copy, old, 'two');
    await page.page.evaluate(() => steepbook.installed.registration.update());
    await page.page.waitForFunction(() => steepbook.installed.newerWaits, undefined, { timeout: 20000 });
    equal(await version(), old, 'goes on as it was');
    await browser.offline(true);
    await page.page.reload();
    await page.ready();
    equal(await version(), old, 'reloads as it was');
    await page.page.waitForFunction(() => steepbook.installed.newerWaits, undefined, { timeout: 20000 });
    await Promise.all([page.page.waitForNavigation(), page.page.evaluate(() => steepbook.installed.useNewer())]);
    await page.ready();
    equal(await version(), 'two', 'after consent');
    await page.wait('Rows: 1');
    await browser.close();
    await server.close();
    browser.removeProfile();
    fs.rmSync(copy, { recursive: true });
  }],
  ['who went back to the version before keeps it as the one to go back to', async ({ pages }) => {
    const copy = fs.mkdtempSync(path.join(os.tmpdir(), 'steepbook-pages-'));
    fs.cpSync(pages, copy, { recursive: true });
    const server = await serve(copy);
    const browser = await Browser.start();
    const page = await browser.open(server.address);
    await page.worksOffline();
    const version = () => page.page.evaluate(() => steepbook.version);
    const first = await version();
    const update = async (old, name) => {
      rename(copy, old, name);
      await page.page.evaluate(() => steepbook.installed.registration.update());
      await page.page.waitForFunction(() => steepbook.installed.newerWaits, undefined, { timeout: 20000 });
      await Promise.all([page.page.waitForNavigation(), page.page.evaluate(() => steepbook.installed.useNewer())]);
      await page.ready();
      equal(await version(), name, 'after the update');
      await page.worksOffline();
    };
    const goBack = async () => {
      await page.page.goto(`${server.address}rescue.html`);
      await page.page.waitForSelector('#use-before', { state: 'visible' });
      await Promise.all([page.page.waitForNavigation(), page.page.click('#use-before')]);
      await page.ready();
    };
    await update(first, 'two');
    await goBack();
    equal(await version(), first, 'gone back');
    await update('two', 'three');
    await goBack();
    equal(await version(), first, 'not to the one that was left');
    await browser.close();
    await server.close();
    fs.rmSync(copy, { recursive: true });
  }],
  ['what the browser took from the cache comes again with the next visit', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.worksOffline();
    await page.page.evaluate(async () => {
      for (const name of await caches.keys()) if (name.endsWith(steepbook.version)) await caches.delete(name);
    });
    await page.page.reload();
    await page.ready();
    await page.worksOffline();
    await browser.offline(true);
    await page.page.reload();
    await page.ready();
    await browser.close();
  }],
  ['without its scripts the page says that it is being loaded, and leads to the rescue page', async ({ address }) => {
    const browser = await Browser.start();
    await browser.context.route('**/*.js', (route) => route.abort());
    const page = await browser.open(address, { ready: false });
    await page.page.waitForFunction(() => getComputedStyle(document.getElementById('loading')).visibility === 'visible');
    check(await page.page.isVisible('#loading a[href="rescue.html"]'), 'a way to the book');
    await browser.close();
  }],
  ['an update that does not arrive whole leaves the old one', async ({ pages }) => {
    const copy = fs.mkdtempSync(path.join(os.tmpdir(), 'steepbook-pages-'));
    fs.cpSync(pages, copy, { recursive: true });
    const server = await serve(copy);
    const browser = await Browser.start();
    const page = await browser.open(server.address);
    await page.worksOffline();
    const worker = fs.readFileSync(path.join(copy, 'sw.js'), 'utf8');
    fs.writeFileSync(path.join(copy, 'sw.js'), worker.replace(/kVersion = "[^"]*"/, 'kVersion = "broken"').replace(/(\["index.html",")[0-9a-f]{4}/, '$10000'));
    await page.page.evaluate(() => steepbook.installed.registration.update().catch(() => {}));
    await page.page.waitForFunction(() => !steepbook.installed.registration.installing);
    equal(await page.page.evaluate(() => Boolean(steepbook.installed.registration.waiting)), false, 'nothing waits');
    await browser.offline(true);
    await page.page.reload();
    await page.ready();
    await browser.close();
    await server.close();
    browser.removeProfile();
    fs.rmSync(copy, { recursive: true });
  }],
  ['nothing is asked of any other place, and the policy forbids it', async ({ address }) => {
    const browser = await Browser.start();
    const hosts = new Set();
    browser.context.on('request', (request) => { if (/^https?:/.test(request.url())) hosts.add(new URL(request.url()).origin); });
    const page = await browser.open(address);
    await page.worksOffline();
    equal([...hosts].join(' '), new URL(address).origin, 'hosts asked');
    const refused = await page.page.evaluate(() => fetch('https://example.org/').then(() => false, () => true));
    check(refused, 'fetch elsewhere is refused');
    check(page.errors.some((line) => line.includes('Content Security Policy')), 'by the policy');
    await browser.close();
    browser.removeProfile();
  }],
  ['files are sent compressed to who takes that, as they are to who does not', async ({ address, pages }) => {
    const name = fs.readdirSync(pages).find((one) => one.endsWith('.wasm'));
    const whole = fs.readFileSync(path.join(pages, name));
    const asked = (accepted) => new Promise((done, failed) => {
      http.get(address + name, { headers: accepted ? { 'Accept-Encoding': accepted } : {} }, (answer) => {
        const pieces = [];
        answer.on('data', (piece) => pieces.push(piece)).on('end', () => done({ ...answer.headers, body: Buffer.concat(pieces) }));
      }).on('error', failed);
    });
    const decode = { br: zlib.brotliDecompressSync, gzip: zlib.gunzipSync };
    for (const [accepted, coding] of [['gzip, deflate, br', 'br'], ['gzip, deflate', 'gzip'], ['', undefined], ['broad', undefined]]) {
      const answer = await asked(accepted);
      equal(answer['content-encoding'], coding, `to '${accepted}'`);
      equal(answer['content-type'], 'application/wasm', 'its type stays');
      equal(Number(answer['content-length']), answer.body.length, 'its length is that of what is sent');
      check((coding ? decode[coding](answer.body) : answer.body).equals(whole), `the same bytes to '${accepted}'`);
    }
  }],
  ['an address that is not safe starts all the same', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address, { before: () => {
      for (const name of ['serviceWorker', 'locks', 'storage', 'wakeLock', 'clipboard', 'share', 'canShare']) {
        Object.defineProperty(navigator, name, { value: undefined });
      }
      delete Navigator.prototype.serviceWorker;
    } });
    await page.press('Add');
    await page.wait('State: Saved', ['status']);
    await browser.close();
    browser.removeProfile();
  }],
];
