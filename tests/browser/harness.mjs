// What every browser test stands on: a server, a Chromium with touch, and the items of the program by
// their names, read and pressed through the page's mirror of them.
//
// Profiles are folders of their own, so that the browser can be killed and started again on the same
// storage. Nothing here waits for an amount of time: everything waits for a state.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { listen, makeServer } from '../../wasm/serve.mjs';

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const require = createRequire(path.join(root, 'build/npm/'));
const { chromium } = require('playwright-core');

const kArguments = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--use-gl=angle', '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader'];

const kChromium = process.env.STEEPBOOK_CHROMIUM ?? '/usr/bin/chromium';

export const kPhone = { width: 390, height: 844 };

/** A folder of served pages. `page` = the program, `probe` = the small program of these tests. */
export function pageFolder(name) {
  const given = process.env[`STEEPBOOK_${name.toUpperCase()}_FOLDER`];
  if (given) return path.resolve(root, given);
  return path.join(root, name === 'probe' ? 'build/page/probe_page' : 'build/wasm');
}

/** Serves a folder on a port of its own; `stall` accepts connections and never answers. */
export async function serve(folder) {
  const server = makeServer(folder);
  let stalled = false;
  const handlers = server.listeners('request');
  server.removeAllListeners('request');
  server.on('request', (request, answer) => {
    if (stalled) return;
    for (const handler of handlers) handler.call(server, request, answer);
  });
  const address = await listen(server, 0);
  return {
    address,
    stall(on) { stalled = on; },
    close: () => new Promise((done) => { server.closeAllConnections(); server.close(done); }),
  };
}

export function newProfile() {
  return fs.mkdtempSync(path.join(os.tmpdir(), 'steepbook-browser-'));
}

/** Processes of the browser that works in this profile. */
function pidsOf(profile) {
  const pids = [];
  for (const name of fs.readdirSync('/proc')) {
    if (!/^\d+$/.test(name)) continue;
    try {
      if (fs.readFileSync(`/proc/${name}/cmdline`, 'utf8').includes(profile)) pids.push(Number(name));
    } catch { /* gone meanwhile */ }
  }
  return pids.filter((pid) => pid !== process.pid);
}

/** One browser for all tests that keep nothing: each gets a fresh store of its own in it. */
let shared = null;
async function sharedBrowser() {
  shared ??= chromium.launch({ executablePath: kChromium, args: kArguments });
  return shared;
}
export async function closeShared() {
  if (shared) await (await shared).close();
  shared = null;
}

/** A browser with a store of its own. With `keeps`, or a profile of before: a process of its own that
 *  can be killed, and started again on the same store. */
export class Browser {
  static async start(options = {}) {
    const browser = new Browser();
    const settings = {
      viewport: options.size ?? kPhone,
      deviceScaleFactor: options.density ?? 2,
      hasTouch: options.touch ?? true,
      isMobile: options.touch ?? true,
      locale: options.locale ?? 'en-US',
      timezoneId: options.zone ?? 'America/New_York',
      colorScheme: options.dark ? 'dark' : 'light',
      acceptDownloads: true,
      serviceWorkers: 'allow',
    };
    if (!options.keeps && !options.profile) {
      browser.context = await (await sharedBrowser()).newContext(settings);
      return browser;
    }
    browser.profile = options.profile ?? newProfile();
    for (const name of fs.readdirSync(browser.profile)) {
      if (name.startsWith('Singleton')) fs.rmSync(path.join(browser.profile, name), { force: true });
    }
    browser.context = await chromium.launchPersistentContext(browser.profile, {
      executablePath: kChromium, args: kArguments, ...settings,
    });
    return browser;
  }

  async open(address, options = {}) {
    const page = options.page ?? (await this.context.newPage());
    const opened = new Page(this, page);
    page.on('pageerror', (error) => opened.errors.push(String(error)));
    page.on('console', (message) => {
      if (message.type() === 'error') opened.errors.push(message.text());
    });
    if (options.before) await page.addInitScript(options.before);
    await page.goto(address, { waitUntil: 'load' });
    if (options.ready !== false) await opened.ready();
    return opened;
  }

  offline(on) { return this.context.setOffline(on); }

  /** The power goes out: every process of this browser at once, without a word to any of them. */
  async kill() {
    const pids = pidsOf(this.profile);
    for (const pid of pids) {
      try { process.kill(pid, 'SIGKILL'); } catch { /* gone already */ }
    }
    this.killed = true;
    await this.context.close().catch(() => {});
    for (let i = 0; i < 100 && pidsOf(this.profile).length > 0; ++i) await new Promise((then) => setTimeout(then, 20));
  }

  async close() {
    if (!this.killed) await this.context.close().catch(() => {});
  }

  removeProfile() {
    if (this.profile) fs.rmSync(this.profile, { recursive: true, force: true });
  }
}

/** One tab with the program in it. */
export class Page {
  constructor(browser, page) {
    this.browser = browser;
    this.page = page;
    this.errors = [];
  }

  async ready() {
    try {
      await this.page.waitForFunction(() => globalThis.steepbook && steepbook.ready && steepbook.frames > 0 && steepbook.mirror.count > 0,
        undefined, { timeout: 60000, polling: 50 });
    } catch (error) {
      const notice = await this.page.evaluate(() => document.getElementById('notice')?.dataset.what).catch(() => '?');
      throw new Error(`the page did not start: notice ${notice}, errors ${this.errors.join('; ')}\n${error}`);
    }
  }

  /** Items of the last frame: {id, role, name, value, on, enabled, drawn, rect …}. */
  items() { return this.page.evaluate(() => steepbook.mirror.list()); }

  /** The first item with this name (or, with '…' at its end, beginning so), of any of the roles if given. */
  async find(name, roles) {
    const all = await this.items();
    const hit = (item) => (name instanceof RegExp ? name.test(item.name)
      : name.endsWith('…') ? item.name.startsWith(name.slice(0, -1)) : item.name === name);
    return all.find((item) => hit(item) && (!roles || roles.includes(item.role))) ?? null;
  }

  /** Waits until such an item is there. */
  async wait(name, roles, timeout = 15000) {
    const end = Date.now() + timeout;
    for (;;) {
      const item = await this.find(name, roles);
      if (item) return item;
      if (Date.now() > end) {
        const all = (await this.items()).map((i) => `${i.role} '${i.name}'`);
        const there = [...all.slice(0, 60), ...(all.length > 60 ? [`and ${all.length - 60} more`] : [])].join('\n    ');
        throw new Error(`no item ${name}; on screen:\n    ${there}`);
      }
      await new Promise((then) => setTimeout(then, 20));
    }
  }

  async gone(name, timeout = 15000) {
    const end = Date.now() + timeout;
    while (await this.find(name)) {
      if (Date.now() > end) throw new Error(`item ${name} is still there`);
      await new Promise((then) => setTimeout(then, 20));
    }
  }

  /** Presses by name, as assistive technology does: a click on the item's element. */
  async press(name, roles) {
    const item = await this.wait(name, roles ?? ['button', 'tab', 'choice', 'check', 'row']);
    await this.page.evaluate((key) => document.querySelector(`[data-key="${key}"]`).click(), item.key);
    await this.settled();
    return item;
  }

  /** Presses by name with a finger at the item's place. */
  async tap(name, roles) {
    const item = await this.wait(name, roles);
    const [left, top, right, bottom] = item.rect;
    await this.page.touchscreen.tap((left + right) / 2, (top + bottom) / 2);
    await this.settled();
    return item;
  }

  /** Types into a field: a finger on it, then the keys. */
  async type(name, text) {
    const item = await this.tap(name, ['field']);
    await this.page.keyboard.press('Control+A');
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Enter');
    await this.settled();
    return item;
  }

  /** Fills a field through its element, as a keyboard's suggestion does. */
  async fill(name, text) {
    const item = await this.wait(name, ['field']);
    await this.page.evaluate(([key, value]) => {
      const field = document.querySelector(`[data-key="${key}"]`);
      field.focus();
      field.value = value;
      field.dispatchEvent(new InputEvent('input', { bubbles: true }));
      field.blur();
    }, [item.key, text]);
    await this.settled();
  }

  /** Waits until `condition` (in the page) holds. */
  until(condition, argument) {
    return this.page.waitForFunction(condition, argument, { timeout: 15000, polling: 20 });
  }

  /** Until no frame is wanted any more. */
  async settled() {
    await this.page.waitForFunction(() => !steepbook.scheduled && steepbook.burst === 0, undefined, { timeout: 60000, polling: 20 });
  }

  frames() { return this.page.evaluate(() => steepbook.frames); }

  /** A finger drawn from one place to another by real touch events. */
  async drag(from, to, steps = 8, hold = false) {
    const cdp = await this.page.context().newCDPSession(this.page);
    const touch = (type, x, y) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
    await touch('touchStart', ...from);
    for (let i = 1; i <= steps; ++i) {
      await touch('touchMove', from[0] + ((to[0] - from[0]) * i) / steps, from[1] + ((to[1] - from[1]) * i) / steps);
    }
    if (!hold) await touch('touchEnd');
    await cdp.detach();
    if (!hold) await this.settled();
  }

  /** What the service worker says: every file of this version lies here. */
  async worksOffline() {
    await this.page.waitForFunction(() => steepbook.installed.worksOffline, undefined, { timeout: 30000, polling: 50 });
  }

  /** Files that a person chooses, put into the item's real file input. */
  async chooseFile(name, file) {
    const item = await this.wait(name, ['file']);
    await this.page.locator(`[data-key="${item.key}"]`).setInputFiles(file);
    await this.settled();
  }

  /** The file that pressing this item downloads. */
  async download(name) {
    const [download] = await Promise.all([this.page.waitForEvent('download'), this.press(name)]);
    return { name: download.suggestedFilename(), path: await download.path() };
  }

  picture(file) { return this.page.screenshot({ path: file }); }
}

export function check(condition, sentence) {
  if (!condition) throw new Error(sentence);
}
export function equal(got, wanted, what) {
  if (got !== wanted) throw new Error(`${what}: got ${JSON.stringify(got)}, wanted ${JSON.stringify(wanted)}`);
}

/** The desktop program; throws with what it said when its exit status is another one. */
export function steepbook(parameters, { status = 0, cwd } = {}) {
  const program = process.env.STEEPBOOK_PROGRAM ?? path.join(root, 'build/native/steepbook');
  try {
    const said = execFileSync(program, parameters, { encoding: 'utf8', cwd, stdio: ['ignore', 'pipe', 'pipe'], maxBuffer: 64 << 20 });
    if (status !== 0) throw Object.assign(new Error('status 0'), { status: 0, stdout: said, stderr: '' });
    return said;
  } catch (error) {
    if (error.status === status) return String(error.stdout) + String(error.stderr);
    throw new Error(`steepbook ${parameters.join(' ')}: exit ${error.status}, wanted ${status}\n${error.stdout}${error.stderr}`);
  }
}
