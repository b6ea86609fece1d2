// A handover file locked on the page: opened by the desktop, and on another page; the real fields behind it.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { Browser, check, equal, steepbook } from '../harness.mjs';

export const suite = 'lock';
export const needs = 'page';

const kPhrase = 'Compás 9, wet boots';
const fieldType = async (page) => {
  const { key } = await page.wait('Passphrase', ['field']);
  return page.page.evaluate((at) => document.querySelector(`[data-key="${at}"]`).type, key);
};

export const tests = [
  ['given locked, taken on the desktop and on another page; a wrong passphrase may be mended', async ({ address }) => {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'steepbook-lock-'));
    const giver = await Browser.start();
    let page = await giver.open(address);
    await page.press('Look at the demo farm…');
    await page.wait('Today', ['tab']);
    await page.press(/^Book/, ['tab']);
    await page.press('Give a part, or lock it');
    await page.press('Lock with a passphrase');
    equal(await fieldType(page), 'text', 'seen while it is set');
    await page.press('Show what is typed');
    equal(await fieldType(page), 'password', 'or hidden');
    await page.type('Passphrase', kPhrase);
    const [download] = await Promise.all([page.page.waitForEvent('download', { timeout: 60000 }), page.press('Give locked file')]);
    check(/^locked-\d{4}-\d\d-\d\d\.steepbook$/.test(download.suggestedFilename()), `its name says nothing: ${download.suggestedFilename()}`);
    const bytes = fs.readFileSync(await download.path());
    check(bytes.toString('latin1').startsWith('{"format":"steepbook-locked","major":1,'), 'locked');
    equal(page.errors.join('\n'), '', 'no trouble with the rules of the page');
    await giver.close();

    const file = path.join(folder, 'phone.steepbook'), phrase = path.join(folder, 'phrase.txt');
    fs.writeFileSync(file, bytes);
    fs.writeFileSync(phrase, `${kPhrase}\n`);
    steepbook(['--book', path.join(folder, 'office.sqlite'), 'take', file, '--passphrase-file', phrase]);

    const taker = await Browser.start();
    page = await taker.open(address);
    await page.chooseFile('Take the farm from a file…', { name: 'phone.steepbook.txt', mimeType: 'text/plain', buffer: bytes });
    await page.wait('This file is locked with a passphrase');
    equal(await fieldType(page), 'password', 'hidden while it is told');
    await page.type('Passphrase', 'wet boots');
    await page.press('Open it');
    await page.wait(/^The passphrase does not fit/);
    await page.type('Passphrase', kPhrase);
    await page.page.evaluate(() => { globalThis.begun = performance.now(); });
    await page.press('Open it');
    await page.wait('Take it in', ['button']);
    console.log(`\n    opened after ${await page.page.evaluate(() => Math.round(performance.now() - globalThis.begun))} ms (machine under test included)`);
    await page.press('Take it in');
    await page.press('Done');
    await page.wait('Today', ['tab']);
    equal(page.errors.join('\n'), '', 'no trouble');
    await taker.close();
    fs.rmSync(folder, { recursive: true });
  }],
];
