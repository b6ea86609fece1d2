// The main job on the real program: a pass recorded bed by bed without network, the browser killed
// right after the last 'Saved', everything there when it is opened again, the file given and taken.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Browser, check, equal, steepbook } from '../harness.mjs';

export const suite = 'story';
export const needs = 'page';

const saved = (page) => page.wait(/^Saved/, ['status'], 30000);
/** The double press guard is 350 ms on one item; the same name comes back after Undo. */
const breathe = (page) => page.page.waitForTimeout(400);

export async function startPass(page) {
  await page.press('Spray', ['tab']);
  await page.press('Start pass', ['button']);
  if (await page.find('Weather now: Not taken')) await page.press('Weather now: Not taken');
  const start = await page.wait(/^Start · /, ['button']);
  check(start.enabled, `the pass can start: ${start.name}`);
  await page.press(start.name);
}

export const tests = [
  ['a pass without network, killed after the last Saved, all there; given, taken twice, printed once', async ({ address }) => {
    const browser = await Browser.start({ keeps: true });
    let page = await browser.open(address);
    await page.press('Look at the demo farm…');
    await page.wait('Today', ['tab']);
    await saved(page);
    await page.worksOffline();
    await browser.offline(true);
    await page.page.reload();
    await page.ready();
    await startPass(page);
    await page.press(/^N1 done, then N2/);
    await breathe(page);
    await page.press(/^N2 done, then N3/);
    await breathe(page);
    await page.press(/^Half of N3/);
    await breathe(page);
    await page.press(/^Skip N4/);
    await page.press(/^Why skip N4\?: wet/);
    await breathe(page);
    await page.press(/^N5 done, then N6/);
    await breathe(page);
    await page.press(/^Undo N5/);
    await breathe(page);
    await page.press(/^N5 done, then N6/);
    await breathe(page);
    await page.press(/^Refill/);
    await page.press(/^Is the tank dry\?: Ran dry/);
    await page.press(/^Refilled, on with N6/);
    await breathe(page);
    await page.press(/^N6 done, then N7/);
    await saved(page);
    await browser.kill();

    const again = await Browser.start({ profile: browser.profile });
    await again.offline(true);
    page = await again.open(address);
    // The pass that was under way is where the person was.
    await page.wait(/^N7 done, then N8/, undefined, 30000);
    await page.press(/^Back/, ['button']);
    if (!(await page.find('Book…', ['tab'])) && !(await page.find('Book', ['tab']))) await page.press(/^Back|^Leave|^Later/, ['button']);
    await page.press('Today', ['tab']);
    await page.wait(/^Bed N7, /, ['row']);
    const rows = (await page.items()).filter((item) => item.role === 'row').map((item) => item.name);
    for (const done of ['N1', 'N2', 'N5', 'N6']) check(!rows.some((row) => row.startsWith(`Bed ${done}, `)), `${done} is done`);
    check(rows.some((row) => row.startsWith('Bed N3, ') && row.includes('today')), 'half of N3 is done');
    check(rows.some((row) => row.startsWith('Bed N4, ') && row.includes('due')), 'N4 was skipped and is still due');
    // The pass is put aside, and the file given.
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'steepbook-story-'));
    const file = path.join(folder, 'phone.steepbook');
    await page.press(/^Book/, ['tab']);
    const [download] = await Promise.all([page.page.waitForEvent('download', { timeout: 30000 }), page.press('Give handover file')]);
    fs.copyFileSync(await download.path(), file);
    await again.close();
    again.removeProfile();

    const book = path.join(folder, 'office.sqlite');
    steepbook(['--book', book, 'take', file]);
    const first = JSON.parse(steepbook(['--book', book, '--json', 'list', 'dose']));
    steepbook(['--book', book, 'take', file]);
    const second = JSON.parse(steepbook(['--book', book, '--json', 'list', 'dose']));
    equal(JSON.stringify(second), JSON.stringify(first), 'taken twice is taken once');
    const passes = JSON.parse(steepbook(['--book', book, '--json', 'list', 'pass']));
    check(passes.length > 0, 'passes are there');
    steepbook(['--book', book, 'check']);
    const report = path.join(folder, 'report.html');
    steepbook(['--book', book, 'paper', 'inspection', '-o', report]);
    check(fs.readFileSync(report, 'utf8').includes('N6'), 'the report shows the beds');
    fs.rmSync(folder, { recursive: true });
  }],
  ['files that are none: a sentence, and the book as it was', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    const bad = { 'empty.steepbook': '', 'other.json': '{"a":1}', 'page.html': '<!doctype html><p>x', 'zeros.steepbook': '\0'.repeat(100000),
      'cut.steepbook': Buffer.from([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3, 1, 2, 3]) };
    for (const [name, content] of Object.entries(bad)) {
      const first = await page.wait(/^Take the farm from a file|^Take one in|^Choose another|^Another file/, ['file']);
      await page.chooseFile(first.name, { name, mimeType: '', buffer: Buffer.from(content) });
      await page.settled();
      check((await page.items()).some((item) => item.name.length > 0), `${name}: still there`);
      equal(page.errors.join('\n'), '', name);
      const back = await page.find(/^Back|^Close|^Later|^Cancel/, ['button']);
      if (back) await page.press(back.name);
    }
    await page.press('Look at the demo farm…');
    await page.wait('Today', ['tab']);
    await browser.close();
  }],
  ['an idle screen draws nothing between the ticks of its clock', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Look at the demo farm…');
    await page.wait('Today', ['tab']);
    await saved(page);
    await page.worksOffline();
    await page.settled();
    await page.page.waitForTimeout(3500);   // The store folds its pages meanwhile.
    const before = await page.frames();
    await page.page.waitForTimeout(5000);
    const drawn = await page.frames() - before;
    check(drawn <= 1, `frames in 5 s: ${drawn}`);
    await browser.close();
  }],
  ['opens again within its time, from the cache, with the demo book', async ({ address }) => {
    const browser = await Browser.start();
    const page = await browser.open(address);
    await page.press('Look at the demo farm…');
    await saved(page);
    await page.worksOffline();
    await browser.offline(true);
    await page.page.reload();
    await page.ready();
    await page.wait('Today', ['tab']);
    const ms = await page.page.evaluate(() => Math.round(performance.now()));
    console.log(`\n    usable ${ms} ms after the reload began (machine under test included)`);
    await browser.close();
  }],
];
