// The page in Chromium: opening, a press to 'Saved', a file of 25,000 changes, ten seasons
//
//   node tests/bench/page.mjs [SUITE…]      open save take seasons
//
// Everything is measured inside the page by its own clock; the browser runs without a graphics card here, which
// makes frames slower than on a phone of today. Medians of several runs.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { Browser, closeShared, pageFolder, root, serve, steepbook } from '../browser/harness.mjs';

const kOpenings = 5, kPresses = 14;
const folder = path.join(root, 'build/bench');
const wanted = process.argv.slice(2);
const chosen = (name) => wanted.length === 0 || wanted.includes(name);

const print = (name, value, unit, against, ratio) => console.log(JSON.stringify({
  name, value: Number(value.toPrecision(4)), unit, against, ratio: Number(ratio.toPrecision(4)),
}));
const median = (all) => [...all].sort((a, b) => a - b)[all.length >> 1];
const saved = (page) => page.wait(/^Saved/, ['status'], 60000);

/** A handover file of an invented book of so many seasons. */
function seasonsFile(seasons) {
  const book = path.join(folder, `page-${seasons}.sqlite`), file = path.join(folder, `page-${seasons}.steepbook`);
  if (!fs.existsSync(file)) {
    for (const end of ['', '-wal', '-shm', '-journal']) fs.rmSync(book + end, { force: true });
    execFileSync(path.join(root, 'build/native/steepbook_bench'), ['--make', book, String(seasons)]);
    steepbook(['--book', book, 'give', file]);
  }
  return file;
}

/** Runs in the page before it: notes when an item first shows, and tasks over 50 ms. */
function watch() {
  globalThis.seen = {};
  globalThis.longest = [];
  new PerformanceObserver((list) => {
    for (const task of list.getEntries()) globalThis.longest.push([Math.round(task.startTime), Math.round(task.duration)]);
  }).observe({ type: 'longtask', buffered: true });
}

/** Milliseconds from the start of a reload until an item of this name stands there. */
async function reopened(page, name) {
  await page.page.reload();
  const found = await page.page.waitForFunction((text) => {
    const at = globalThis.steepbook?.ready && steepbook.frames > 0 && steepbook.mirror.list().some((item) => item.name.startsWith(text));
    return at ? performance.now() : 0;
  }, name, { polling: 'raf', timeout: 60000 });
  return found.jsonValue();
}

async function openings(page, name, what, limit) {
  await page.worksOffline();
  await page.browser.offline(true);
  const all = [];
  for (let i = 0; i < kOpenings; ++i) all.push(await reopened(page, name));
  await page.browser.offline(false);
  print(`page, from the cache until usable, ${what}`, median(all), 'ms', `${limit} ms`, median(all) / limit);
}

async function open(address) {
  const browser = await Browser.start();
  const page = await browser.open(address, { before: watch });
  await openings(page, 'Take the farm from a file', 'no book', 1000);
  await page.press('Look at the demo farm…');
  await page.wait('Today', ['tab'], 60000);
  await saved(page);
  await openings(page, 'Today', 'demo book', 1000);
  await page.settled();
  await page.page.waitForTimeout(3500);  // The store folds its pages meanwhile.
  // Between two minutes of the clock: a tick draws.
  await page.page.waitForFunction(() => new Date().getSeconds() < 50, undefined, { polling: 500 });
  const before = await page.frames();
  await page.page.waitForTimeout(5000);
  const drawn = await page.frames() - before;
  print('page, frames drawn in 5 idle seconds', drawn, '', 'none', drawn);
  await browser.close();
}

/** Notes how long each write of the book takes. Frames wait meanwhile: without a graphics card they would hold its end up. */
function watchWrites() {
  globalThis.writes = [];
  const { store } = steepbook, write = store.write, schedule = steepbook.schedule;
  store.write = function (plan, pages, segments, then) {
    const begun = performance.now();
    steepbook.schedule = () => {};
    return write.call(store, plan, pages, segments, (...end) => {
      globalThis.writes.push(performance.now() - begun);
      steepbook.schedule = schedule;
      then(...end);
      steepbook.wake(2);
    });
  };
}

/** What the toolkit's own file system does at each sync: the whole file as one value of a store. */
async function wholeFile(page, megabytes) {
  return page.page.evaluate(async (size) => {
    const database = await new Promise((done, failed) => {
      const asked = indexedDB.open('whole-file', 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore('FILE_DATA');
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => failed(asked.error);
    });
    const contents = new Uint8Array(size * 1e6), all = [];
    for (let at = 0; at < contents.length; at += 65536) crypto.getRandomValues(contents.subarray(at, Math.min(at + 65536, contents.length)));
    for (let i = 0; i < 7; ++i) {
      contents[i] += 1;
      const begun = performance.now();
      await new Promise((done, failed) => {
        const work = database.transaction(['FILE_DATA'], 'readwrite');
        work.objectStore('FILE_DATA').put({ timestamp: new Date(), mode: 33206, contents }, '/book.sqlite');
        work.oncomplete = done;
        work.onerror = () => failed(work.error);
      });
      all.push(performance.now() - begun);
    }
    database.close();
    indexedDB.deleteDatabase('whole-file');
    return all.sort((a, b) => a - b)[3];
  }, megabytes);
}

async function startPass(page) {
  await page.press('Spray', ['tab']);
  await page.press('Start pass', ['button']);
  if (await page.find('Weather now: Not taken')) await page.press('Weather now: Not taken');
  await page.press((await page.wait(/^Start · /, ['button'])).name);
}

async function save(address) {
  const browser = await Browser.start({ keeps: true });
  const page = await browser.open(address, { before: watch });
  await page.press('Look at the demo farm…');
  await page.wait('Today', ['tab'], 60000);
  await saved(page);
  await startPass(page);
  await page.settled();
  await page.page.evaluate(watchWrites);
  const all = [];
  for (let i = 0; i < kPresses; ++i) {
    await saved(page);
    await page.page.waitForTimeout(400);  // A second press on the same place within 350 ms is not meant.
    const button = await page.find(/^\w+ done/, ['button']);
    if (!button) break;
    // The press is through when the button offers the next bed; what it wrote, once the mark says so. A bed that is
    // picked soon asks first: no press to measure.
    const ms = await page.page.evaluate(async ({ key, name }) => {
      const shown = (test) => steepbook.mirror.list().some(test);
      const begun = performance.now();
      document.querySelector(`[data-key="${key}"]`).click();
      while (shown((item) => item.name === name) || !shown((item) => item.role === 'status' && item.name.startsWith('Saved'))) {
        if (shown((item) => item.role === 'dialog')) return undefined;
        await new Promise((then) => requestAnimationFrame(then));
      }
      return performance.now() - begun;
    }, button);
    if (ms === undefined) break;
    all.push(ms);
  }
  const pressed = median(all), written = median(await page.page.evaluate(() => globalThis.writes));
  for (const megabytes of [5, 50]) {
    const whole = await wholeFile(page, megabytes);
    const against = `the whole file of ${megabytes} MB into IndexedDB: ${whole.toFixed(0)} ms`;
    print(`page, 'done' to 'Saved' on screen (${all.length} presses)`, pressed, 'ms', against, pressed / whole);
    print(`page, of that the book's write`, written, 'ms', against, written / whole);
  }
  await browser.close();
  browser.removeProfile();
}

/** Takes a file into an empty page; the time from 'Take it in' until it is in, and tasks over 50 ms since the file was chosen. */
async function takeInto(page, file) {
  await page.wait(/^Take the farm from a file/, ['file']);
  await page.page.evaluate(() => { globalThis.longest.length = 0; });
  const reading = Date.now();
  await page.chooseFile('Take the farm from a file…', file);
  const go = await page.wait('Take it in', ['button'], 120000);
  const read = Date.now() - reading;
  const ms = await page.page.evaluate(async (key) => {
    const begun = performance.now();
    document.querySelector(`[data-key="${key}"]`).click();
    while (!steepbook.mirror.list().some((item) => / changes came in$/.test(item.name))) {
      if (!steepbook.module) throw new Error('the program broke off');
      await new Promise((then) => setTimeout(then, 20));
    }
    return performance.now() - begun;
  }, go.key);
  return { read, ms, long: await page.page.evaluate(() => globalThis.longest) };
}

const memory = (page) => page.page.evaluate(() => steepbook.module.HEAPU8.length / 1e6);

async function take(address) {
  const file = seasonsFile(4);
  const browser = await Browser.start({ keeps: true });
  const page = await browser.open(address, { before: watch });
  const { read, ms, long } = await takeInto(page, file);
  const longest = Math.max(0, ...long.map(([, duration]) => duration));
  print('page, 25,000 changes: read and plan', read, 'ms', '4 s', read / 4000);
  print('page, 25,000 changes: apply', ms, 'ms', '4 s', ms / 4000);
  print('page, 25,000 changes: longest task', longest, 'ms', '50 ms', longest / 50);
  print('page, 25,000 changes: tasks over 50 ms', long.length, '', 'none', long.length);
  console.error(`tasks over 50 ms, [from, ms]: ${JSON.stringify(long)}`);
  await browser.close();
  browser.removeProfile();
}

async function seasons(address) {
  const file = seasonsFile(10);
  const browser = await Browser.start({ keeps: true });
  const page = await browser.open(address, { before: watch });
  await takeInto(page, file);
  await page.press('Done');
  await page.wait('Today', ['tab'], 60000);
  await saved(page);
  print('page, 10 seasons: wasm memory after taking them', await memory(page), 'MB', '200 MB', await memory(page) / 200);
  await openings(page, 'Today', '10 seasons', 2500);
  const long = await page.page.evaluate(() => globalThis.longest);
  console.error(`tasks over 50 ms of the last opening: ${JSON.stringify(long)}`);
  print('page, 10 seasons: wasm memory when opened again', await memory(page), 'MB', '200 MB', await memory(page) / 200);
  const today = await page.page.evaluate(async () => {
    const key = (name) => steepbook.mirror.list().find((item) => item.name === name && item.role === 'tab').key;
    const press = async (name) => {
      const begun = performance.now();
      document.querySelector(`[data-key="${key(name)}"]`).click();
      do await new Promise((then) => requestAnimationFrame(then)); while (steepbook.scheduled || steepbook.burst > 0);
      return performance.now() - begun;
    };
    const all = [];
    for (let i = 0; i < 5; ++i) {
      await press('Beds');
      all.push(await press('Today'));
    }
    return all.sort((a, b) => a - b)[2];
  });
  print('page, 10 seasons: Today by a press on its tab', today, 'ms', '1,000 ms', today / 1000);
  await browser.close();
  browser.removeProfile();
}

fs.mkdirSync(folder, { recursive: true });
const server = await serve(pageFolder('page'));
for (const part of [open, save, take, seasons]) if (chosen(part.name)) await part(server.address);
await closeShared();
await server.close();
