// The book in the browser: what is shown as saved survives anything, and nothing damages it.
// Behind these: idb-keyval#26 and Dexie.js#840 (quota errors only as abort), tldraw#10526 (empty store
// written over a full one), expo#36835 and TriliumNext#10914 (second tab), rhashimoto/wa-sqlite#111.
import { Browser, check, equal } from '../harness.mjs';

export const suite = 'storage';
export const needs = 'probe';

const rows = async (page) => Number((await page.wait('Rows:…')).name.match(/Rows: (\d+)/)[1]);
const saved = (page, timeout) => page.wait('State: Saved', ['status'], timeout);

const notice = (page, what) => page.page.waitForFunction((which) => document.getElementById('notice').dataset.what === which, what, { timeout: 30000 });
/** In a page beside the program's, which holds the stores as another version of it would. */
const openStores = (page, version) => page.page.evaluate((number) => new Promise((then, failed) => {
  const request = indexedDB.open('steepbook', number);
  request.onupgradeneeded = () => {
    for (const name of ['head', 'page', 'segment', 'aside']) {
      if (!request.result.objectStoreNames.contains(name)) request.result.createObjectStore(name);
    }
  };
  request.onsuccess = () => { globalThis.held = request.result; then(); };
  request.onerror = () => failed(request.error);
}), version);

export const tests = [
  ['saved, closed, opened again offline: all there', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    const page = await browser.open(address);
    for (let i = 0; i < 5; ++i) {
      await page.press('Add');
      await page.page.waitForTimeout(360);
    }
    await saved(page);
    equal(await rows(page), 5, 'rows');
    await page.worksOffline();
    await browser.close();
    const again = await Browser.start({ profile: browser.profile });
    await again.offline(true);
    const reopened = await again.open(address);
    equal(await rows(reopened), 5, 'rows after opening again');
    await again.close();
    again.removeProfile();
  }],
  ['saved is not said before the storage has completed', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address, { before: () => {
      globalThis.completed = 0;
      const transaction = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (...given) {
        const tx = transaction.apply(this, given);
        if (given[1] === 'readwrite') {
          globalThis.durability = tx.durability;
          let held = null;
          Object.defineProperty(tx, 'oncomplete', { set(then) { held = then; }, get: () => held });
          tx.addEventListener('complete', (event) => { globalThis.waiting = () => { globalThis.completed++; held.call(tx, event); }; });
        }
        return tx;
      };
    } });
    await page.press('Add');
    await page.page.waitForFunction(() => globalThis.waiting);
    await page.wait('Rows: 1');
    check((await page.wait('State:…')).name !== 'State: Saved', 'not saved yet');
    await page.page.evaluate(() => waiting());
    await page.settled();
    const timer = setInterval(() => page.page.evaluate(() => { if (globalThis.waiting) waiting(); }).catch(() => {}), 50);
    await saved(page);
    clearInterval(timer);
    equal(await page.page.evaluate(() => globalThis.durability), 'strict', 'durability');
    await browser.close();
    browser.removeProfile();
  }],
  [`killed at ${process.env.KILLS ?? 30} random moments: never less than was shown as saved, never damaged`, async ({ address }) => {
    const kills = Number(process.env.KILLS ?? 30);
    let profile, least = 0, chance = 20260514;
    const random = (n) => {
      chance = (Math.imul(chance, 1103515245) + 12345) >>> 0;
      return (chance >>> 8) % n;
    };
    for (let i = 0; i < kills; ++i) {
      const browser = await Browser.start({ profile, keeps: true });
      profile = browser.profile;
      const page = await browser.open(address);
      const there = await rows(page);
      check(there >= least, `kill ${i}: ${there} rows, ${least} were shown as saved`);
      await page.press('Check');
      check((await page.wait('Taps:…')).name.endsWith('ok'), `kill ${i}: ${(await page.wait('Taps:…')).name}`);
      // The page adds on its own and notes what it has shown as saved; the kill comes when it comes.
      await page.page.exposeFunction('noteSaved', (n) => { least = Math.max(least, n); });
      await page.page.evaluate((many) => {
        const state = () => steepbook.mirror.list();
        const tick = () => {
          const items = state();
          const add = items.find((item) => item.name === (many && Math.random() < 0.1 ? 'Add many' : 'Add'));
          if (items.some((item) => item.name === 'State: Saved')) {
            noteSaved(Number(items.find((item) => item.name.startsWith('Rows:')).name.match(/\d+/)[0]));
          }
          document.querySelector(`[data-key="${add.key}"]`).click();
        };
        setInterval(tick, 30);
      }, i % 5 === 4);
      await page.page.waitForTimeout(200 + random(1200));
      await browser.kill();
    }
    const last = await Browser.start({ profile });
    const page = await last.open(address);
    check(await rows(page) >= least, 'after the last kill');
    await last.close();
    last.removeProfile();
  }],
  ['a full disk: not saved is said, nothing is lost, and saving goes on when there is room', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    // As a full disk shows itself (idb-keyval#26, Dexie.js#840): no request fails, the transaction aborts.
    const page = await browser.open(address, { before: () => {
      const transaction = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (...given) {
        const tx = transaction.apply(this, given);
        if (given[1] === 'readwrite' && globalThis.diskIsFull) {
          Object.defineProperty(tx, 'error', { get: () => new DOMException('', 'QuotaExceededError') });
          tx.commit = () => tx.abort();
        }
        return tx;
      };
    } });
    await page.press('Add');
    await saved(page);
    await page.page.evaluate(() => { globalThis.diskIsFull = true; });
    await page.page.waitForTimeout(360);
    await page.press('Add');
    await page.wait('State: Not saved', ['status']);
    equal(await rows(page), 2, 'entries stay on screen');
    check((await page.wait('Taps:…')).name.includes('full'), 'why');
    await page.page.evaluate(() => { globalThis.diskIsFull = false; });
    await saved(page, 30000);
    await browser.close();
    const again = await Browser.start({ profile: browser.profile });
    equal(await rows(await again.open(address)), 2, 'rows after opening again');
    await again.close();
    again.removeProfile();
  }],
  ['a page that is hidden tries at once what it had put off', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address, { before: () => {
      const transaction = IDBDatabase.prototype.transaction;
      globalThis.refused = 0;
      IDBDatabase.prototype.transaction = function (...given) {
        const tx = transaction.apply(this, given);
        if (given[1] === 'readwrite' && globalThis.diskIsFull) {
          globalThis.refused++;
          Object.defineProperty(tx, 'error', { get: () => new DOMException('', 'QuotaExceededError') });
          tx.commit = () => tx.abort();
        }
        return tx;
      };
    } });
    await page.page.evaluate(() => { globalThis.diskIsFull = true; });
    await page.press('Add');
    await page.page.waitForFunction(() => refused >= 6, undefined, { timeout: 20000 });   // The next try is 8 s away.
    await page.wait('State: Not saved', ['status']);
    await page.page.evaluate(() => {
      globalThis.diskIsFull = false;
      dispatchEvent(new Event('pagehide'));
    });
    await saved(page, 4000);
    await browser.close();
  }],
  ['a photo that finds no room: records are saved without it, and it is stored once there is room', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address, { before: () => {
      const transaction = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (...given) {
        const tx = transaction.apply(this, given);
        if (given[1] === 'readwrite' && globalThis.noRoom && given[0].includes('photo')) {
          Object.defineProperty(tx, 'error', { get: () => new DOMException('', 'QuotaExceededError') });
          tx.commit = () => tx.abort();
        }
        return tx;
      };
    } });
    await page.press('Add');
    await saved(page);
    await page.page.evaluate(() => {
      globalThis.noRoom = true;
      steepbook.store.keepPhoto('ab'.repeat(32), new Uint8Array(1000));
    });
    for (let i = 0; i < 2; ++i) {
      await page.page.waitForTimeout(360);
      await page.press('Add');
      await saved(page);
    }
    equal(await rows(page), 3, 'rows');
    equal(await page.page.evaluate(() => steepbook.store.left.size), 1, 'photos that are left');
    equal(await page.page.evaluate(async () => (await steepbook.store.readPhoto('ab'.repeat(32))).length), 1000, 'still in memory');
    await page.page.evaluate(() => { globalThis.noRoom = false; return steepbook.store.tryLeft(); });
    equal(await page.page.evaluate(() => steepbook.store.left.size), 0, 'then none');
    await page.page.waitForFunction(() => new Promise((then) => {
      steepbook.store.db.transaction('photo').objectStore('photo').getAllKeys().onsuccess = (event) => then(event.target.result.length === 1);
    }));
    await browser.close();
    browser.removeProfile();
  }],
  ['a connection that is lost is opened anew and nothing is lost', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    await page.page.evaluate(() => steepbook.store.db.close());
    await page.page.waitForTimeout(360);
    await page.press('Add');
    await saved(page);
    equal(await rows(page), 2, 'rows');
    await browser.close();
    const again = await Browser.start({ profile: browser.profile });
    equal(await rows(await again.open(address)), 2, 'rows after opening again');
    await again.close();
    again.removeProfile();
  }],
  ['a storage that never answers: the page says what it waits for, and at last that it cannot start', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address, { ready: false, before: () => { indexedDB.open = () => ({}); } });
    await page.page.waitForFunction(() => getComputedStyle(document.getElementById('loading')).visibility === 'visible');
    equal(await page.page.evaluate(() => [...document.querySelectorAll('#loading a')].some((a) => a.getAttribute('href') === 'rescue.html')), true, 'a way to the book');
    await notice(page, 'not-started');
    check(await page.page.isHidden('#loading'), 'one sentence at a time');
    await browser.close();
  }],
  ['a request for a new connection that hangs is given up, and saving goes on over another', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    await page.page.evaluate(() => {
      const open = IDBFactory.prototype.open;
      let hangs = 1;
      IDBFactory.prototype.open = function (...given) { return hangs-- > 0 ? {} : open.apply(this, given); };
      steepbook.store.db.close();
    });
    await page.page.waitForTimeout(360);
    await page.press('Add');
    await page.wait('State: Not saved', ['status']);
    await saved(page, 40000);
    await browser.close();
    const again = await Browser.start({ profile: browser.profile });
    equal(await rows(await again.open(address)), 2, 'rows after opening again');
    await again.close();
    again.removeProfile();
  }],
  ['storage that the browser clears under an open page gets the whole book again', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    const page = await browser.open(address);
    for (let i = 0; i < 3; ++i) {
      await page.press('Add');
      await page.page.waitForTimeout(360);
    }
    await saved(page);
    await page.page.evaluate(() => steepbook.device.setSetting('lane', 'of this copy'));
    const cdp = await page.page.context().newCDPSession(page.page);
    await cdp.send('Storage.clearDataForOrigin', { origin: new URL(address).origin, storageTypes: 'indexeddb,local_storage' });
    const isThere = (database, store, key) => page.page.waitForFunction(([database, store, key]) => new Promise((then) => {
      const request = indexedDB.open(database);
      request.onupgradeneeded = () => request.transaction.abort();
      request.onerror = () => then(false);
      request.onsuccess = () => {
        request.result.transaction(store).objectStore(store).get(key).onsuccess = (event) => { request.result.close(); then(Boolean(event.target.result)); };
      };
    }), [database, store, key], { timeout: 15000, polling: 200 });
    await isThere('steepbook', 'head', 'book');
    await isThere('steepbook-settings', 'setting', 'lane');
    await saved(page);
    equal(await rows(page), 3, 'rows');
    check(!(await page.find('Rows: 3 (elsewhere)')), 'no other tab is blamed');
    await page.press('Add');
    await saved(page);
    await browser.close();
    const again = await Browser.start({ profile: browser.profile });
    const reopened = await again.open(address);
    equal(await rows(reopened), 4, 'rows after opening again');
    equal(await reopened.page.evaluate(() => steepbook.device.setting('lane')), 'of this copy', 'settings too');
    await again.close();
    again.removeProfile();
  }],
  ['an older page that meets stores of a newer one says so, changes nothing, and leads to the rescue page', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(`${address}rescue.html`, { ready: false });
    await openStores(page, 9);
    await page.page.evaluate(() => held.close());
    const older = await browser.open(address, { ready: false });
    await notice(older, 'newer');
    check(await older.page.isVisible('#notice a[href="rescue.html"]'), 'a way to the book');
    equal(await page.page.evaluate(async () => (await indexedDB.databases()).find((db) => db.name === 'steepbook').version), 9, 'version');
    await browser.close();
  }],
  ['an older page that does not let go of the stores is named, and the start goes on when it is closed', async ({ address }) => {
    const browser = await Browser.start();
    const holder = await browser.open(`${address}rescue.html`, { ready: false });
    await openStores(holder, 1);
    const page = await browser.open(address, { ready: false });
    await notice(page, 'blocked');
    await holder.page.close();
    await page.ready();
    check(await page.page.isHidden('#notice'), 'the sentence is gone');
    await page.press('Add');
    await saved(page);
    await browser.close();
  }],
  ['a newer page that wants the stores gets them once all is written; the rescue page does not stand in its way', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    const rescue = await browser.open(`${address}rescue.html`, { ready: false });
    await rescue.page.waitForSelector('#books li');
    const newer = await browser.open(`${address}rescue.html`, { ready: false });
    await page.page.evaluate(() => {   // Committed, and not yet begun to be written.
      const transaction = IDBDatabase.prototype.transaction, add = steepbook.mirror.list().find((item) => item.name === 'Add');
      IDBDatabase.prototype.transaction = function (...given) {
        if (given[1] !== 'readwrite' || globalThis.asked) return transaction.apply(this, given);
        throw new DOMException('', 'InvalidStateError');
      };
      const takenOver = steepbook.store.onTakenOver;
      steepbook.store.onTakenOver = (why) => { globalThis.asked = true; takenOver(why); };
      document.querySelector(`[data-key="${add.key}"]`).click();
    });
    await page.wait('Rows: 1');
    await openStores(newer, 3);
    const sum = await newer.page.evaluate(() => new Promise((then) => {
      held.transaction('head').objectStore('head').get('book').onsuccess = (event) => then(event.target.result ? event.target.result.gen : 0);
    }));
    check(sum >= 2, `the entry was written first: generation ${sum}`);
    await page.wait('Rows: 1 (elsewhere)');
    await page.wait('State: Saved', ['status']);
    await browser.close();
  }],
  ['a program that breaks off says so, and is not called again', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    await page.page.evaluate(() => {
      const module = steepbook.module;
      globalThis.calls = 0;
      module._page_frame = () => { throw new WebAssembly.RuntimeError('unreachable'); };
      module._page_store_step = () => { globalThis.calls++; return 1; };
      steepbook.storeStep();
      globalThis.calls = 0;
      steepbook.wake(1);
    });
    await notice(page, 'stopped');
    const calls = await page.page.evaluate(() => globalThis.calls);
    await page.page.waitForTimeout(200);
    equal(await page.page.evaluate(() => globalThis.calls), calls, 'calls after the end');
    await page.page.evaluate(() => { dispatchEvent(new Event('pagehide')); dispatchEvent(new Event('resize')); });
    const again = await browser.open(address);
    equal(await rows(again), 1, 'another page has the book');
    check(!(await again.find('Rows: 1 (elsewhere)')), 'and may write');
    await browser.close();
  }],
  ['a photo damaged in the storage is made whole by the next that comes; one that is whole is not written again', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address, { before: () => {
      globalThis.puts = 0;
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (...given) {
        if (this.name === 'photo') globalThis.puts++;
        return put.apply(this, given);
      };
    } });
    const name = 'cd'.repeat(32);
    const keep = async () => {
      await page.page.waitForTimeout(360);
      await page.page.evaluate((of) => { steepbook.store.keepPhoto(of, new Uint8Array(5000).fill(7)); }, name);
      await page.press('Add');
      await saved(page);
    };
    await keep();
    await keep();
    equal(await page.page.evaluate(() => globalThis.puts), 1, 'writes of a photo that is there');
    await page.page.evaluate((of) => new Promise((then) => {
      const tx = steepbook.store.db.transaction('photo', 'readwrite');
      tx.objectStore('photo').put(new Uint8Array(5000).fill(8).buffer, of);
      tx.oncomplete = then;
    }), name);
    await keep();
    equal(await page.page.evaluate(async (of) => (await steepbook.store.readPhoto(of))[4999], name), 7, 'its last byte');
    await browser.close();
  }],
  ['a second tab shows the book, says that it is open elsewhere, and writes nothing; use it here', async ({ address }) => {
    const browser = await Browser.start();
    const first = await browser.open(address);
    await first.press('Add');
    await saved(first);
    const second = await browser.open(address);
    await second.wait('Rows: 1 (elsewhere)');
    await second.press('Add');
    await second.wait('State: Not saved', ['status']);
    const generation = () => second.page.evaluate(() => new Promise((then) => {
      const open = indexedDB.open('steepbook');
      open.onsuccess = () => { open.result.transaction('head').objectStore('head').get('book').onsuccess = (e) => { open.result.close(); then(e.target.result.gen); }; };
    }));
    const before = await generation();
    await second.page.waitForTimeout(500);
    equal(await generation(), before, 'the second tab wrote nothing');
    await Promise.all([second.page.waitForNavigation(), second.press('Use it here').catch(() => {})]);
    await second.ready();
    await second.wait('Rows: 1');
    await first.wait('Rows: 1 (elsewhere)');
    await second.press('Add');
    await saved(second);
    equal(await rows(second), 2, 'rows in the second tab');
    await browser.close();
    browser.removeProfile();
  }],
  ['a stale tab whose lock was taken away cannot overwrite the newer book', async ({ address }) => {
    const browser = await Browser.start();
    const stale = await browser.open(address, { before: () => { globalThis.BroadcastChannel = undefined; Object.defineProperty(navigator, 'locks', { value: undefined }); } });
    await stale.press('Add');
    await saved(stale);
    const newer = await browser.open(address, { before: () => { Object.defineProperty(navigator, 'locks', { value: undefined }); } });
    await newer.wait('Rows: 1');
    await newer.press('Add');
    await saved(newer);
    await stale.page.bringToFront();
    await stale.page.waitForTimeout(360);
    await stale.press('Add');
    await stale.wait('Rows: 2 (elsewhere)');
    await stale.wait('State: Not saved', ['status']);
    await newer.page.bringToFront();
    await newer.page.waitForTimeout(360);
    await newer.press('Add');
    await saved(newer);
    equal(await rows(newer), 3, 'rows in the newer tab');
    await browser.close();
    browser.removeProfile();
  }],
  ['a book that another began anew and brought as far is not taken for this page’s own', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    const head = (put) => page.page.evaluate((change) => new Promise((then) => {
      const tx = steepbook.store.db.transaction('head', 'readwrite'), heads = tx.objectStore('head');
      let there;
      heads.get('book').onsuccess = (event) => {
        there = event.target.result;
        if (change) heads.put({ ...there, run: 'another' }, 'book');
      };
      tx.oncomplete = () => then([there.run, there.gen].join());
    }), put);
    const [, generation] = (await head(true)).split(',');
    await page.page.waitForTimeout(360);
    await page.press('Add');
    await page.wait('Rows: 2 (elsewhere)');
    await page.wait('State: Not saved', ['status']);
    equal(await head(false), `another,${generation}`, 'the other book');
    await browser.close();
  }],
  ['nothing is written while the book is being loaded', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    const writes = await browser.open(address, { ready: false, page: page.page, before: () => {
      globalThis.writes = 0;
      const transaction = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (...given) {
        if (given[1] === 'readwrite') globalThis.writes++;
        return transaction.apply(this, given);
      };
    } });
    await writes.ready();
    equal(await writes.page.evaluate(() => writes), 0, 'writes');
    await browser.close();
    browser.removeProfile();
  }],
  ['a damaged page is noticed, nothing is written, and rescue.html hands the file out', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    await page.worksOffline();
    await page.page.evaluate(() => new Promise((then) => {
      const tx = steepbook.store.db.transaction('page', 'readwrite'), store = tx.objectStore('page');
      store.get(1).onsuccess = (event) => {
        const bytes = new Uint8Array(event.target.result);
        bytes[2000] ^= 1;
        store.put(bytes.buffer, 1);
      };
      tx.oncomplete = then;
    }));
    await browser.offline(true);
    const again = await browser.open(address, { ready: false, page: page.page });
    await again.page.waitForFunction(() => document.getElementById('notice').dataset.what === 'damaged');
    await again.page.goto(`${address}rescue.html`);
    await again.page.waitForSelector('#books li .whole');
    check((await again.page.textContent('#books li .whole')).startsWith('1 of'), 'says what is damaged');
    const [download] = await Promise.all([again.page.waitForEvent('download'), again.page.click('#books .save')]);
    const fs = await import('node:fs');
    equal(fs.readFileSync(await download.path()).subarray(0, 15).toString(), 'SQLite format 3', 'the file');
    await browser.close();
    browser.removeProfile();
  }],
  ['safety copies: two are kept, and rescue.html shows them', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Add');
    await saved(page);
    for (let i = 0; i < 3; ++i) {
      await page.page.waitForTimeout(400);
      await page.press('Set aside');
    }
    await page.page.waitForFunction(() => new Promise((then) => {
      steepbook.store.db.transaction('aside').objectStore('aside').getAllKeys().onsuccess = (event) => then(
        event.target.result.filter((key) => key[1] === 'head').length === 2);
    }));
    await page.page.goto(`${address}rescue.html`);
    await page.page.waitForFunction(() => document.querySelectorAll('#books li').length === 3);
    equal(await page.page.evaluate(() => [...document.querySelectorAll('#books .whole')].every((p) => p.textContent.startsWith('All'))), true, 'whole');
    await browser.close();
    browser.removeProfile();
  }],
];
