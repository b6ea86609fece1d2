// Makes a picture of every screen of the demo farm in the browser, in the sizes, themes and languages
// that people have. Called by tests/browser/pictures.
import path from 'node:path';
import { Browser, closeShared, pageFolder, serve } from './harness.mjs';

const folder = process.argv[2];
const kinds = [
  ...[[390, 844], [360, 740], [844, 390], [1440, 900]].map(([width, height]) => ({ width, height, locale: 'en-US', dark: false })),
  { width: 390, height: 844, locale: 'en-US', dark: true },
  { width: 1440, height: 900, locale: 'en-US', dark: true },
  { width: 390, height: 844, locale: 'es-ES', dark: false },
  { width: 1440, height: 900, locale: 'es-ES', dark: false },
];
const pressable = ['button', 'tab', 'choice', 'check', 'row'];
/** A way through the program: [name of the picture, what is pressed to get there]. A tab first goes back
 *  to where the tabs are. */
const tab = (pattern) => ({ tab: pattern });
const way = [
  ['today', []],
  ['brew', [tab(/^(Brew|Té)$/)]],
  ['brew-page', [/^(Brew|Té) \d/]],
  ['beds', [tab(/^(Beds|Camas)$/)]],
  ['bed', [/^(Bed|Cama) N7|^N7/]],
  ['book', [tab(/^(Book|Libro)/)]],
  ['settings', [/^(Settings|Ajustes)$/]],
  ['reports', [tab(/^(Book|Libro)/), /^(Inspection report|Informe)/]],
  ['spray', [tab(/^(Spray|Aplicar)$/)]],
  ['start-pass', [/^(Start pass|Empezar pasada)$/]],
  ['spraying', [/: (Not taken|No se tomó)$/, /^\S+ · N\d+$/]],
  ['refill', [/^(Refill|Rellenar)/]],
];

async function goTo(page, step) {
  if (step.tab) {
    for (let i = 0; i < 5 && !(await page.find(step.tab, ['tab'])); ++i) {
      const out = await page.find(/^(Close|Cerrar)$/, ['button']) ?? await page.find(/^(Back|Atrás)/, ['button']);
      if (!out) return false;
      await page.press(out.name, ['button']);
    }
  }
  const item = await page.find(step.tab ?? step, step.tab ? ['tab'] : pressable);
  if (!item || !item.enabled) return false;
  await page.press(item.name, [item.role]);
  return true;
}

const server = await serve(pageFolder('page'));
let made = 0;
for (const kind of kinds) {
  const name = (screen) => path.join(folder, `${screen}-${kind.width}x${kind.height}-${kind.dark ? 'dusk' : 'day'}-${kind.locale.slice(0, 2)}.png`);
  const browser = await Browser.start({ size: { width: kind.width, height: kind.height }, density: kind.width > 1000 ? 1 : 2,
    touch: kind.width < 1000, locale: kind.locale, dark: kind.dark });
  const page = await browser.open(server.address);
  const picture = async (screen) => {
    await page.settled();
    await page.picture(name(screen));
    made++;
  };
  await picture('first-run');
  await page.press(/^(Look at the demo farm|Ver la finca de muestra|.*demo|.*ejemplo)/i, ['button']);
  await page.wait(/^(Today|Hoy)$/, ['tab'], 60000);
  for (const [screen, presses] of way) {
    let there = true;
    for (const step of presses) there = await goTo(page, step) && there;
    if (there) await picture(screen);
    else console.log(`${path.basename(name(screen))}: no way there (${(await page.items()).slice(0, 3).map((item) => item.name).join(' | ')})`);
  }
  await browser.close();
}
await server.close();
await closeShared();
console.log(`${made} pictures in ${folder}`);
