// Runs the browser tests:  node tests/browser/run.mjs [NAME…]
//
// Each file of suites/ exports `suite` (its name), `needs` ('page' or 'probe') and `tests`, a list of
// [name, function]. Prints 'name … ok' a test and ends with 'N passed, N failed'. KILLS sets how many
// random kills are made (30; the long run makes 1,000).
import fs from 'node:fs';
import path from 'node:path';
import { closeShared, pageFolder, root, serve } from './harness.mjs';

const wanted = process.argv.slice(2);
const folder = path.join(root, 'tests/browser/suites');
let passed = 0, failed = 0;

for (const file of fs.readdirSync(folder).filter((name) => name.endsWith('.mjs')).sort()) {
  const { suite, needs, tests } = await import(path.join(folder, file));
  const pages = pageFolder(needs);
  const chosen = tests.filter(([name]) => wanted.length === 0 || wanted.some((w) => `${suite}: ${name}`.includes(w)));
  if (chosen.length === 0) continue;
  if (!fs.existsSync(path.join(pages, 'index.html'))) {
    console.log(`${suite} … FAILED\n    ${path.relative(root, pages)} is not built: bash tests/run browser builds it`);
    failed += chosen.length;
    continue;
  }
  const server = await serve(pages);
  for (const [name, test] of chosen) {
    const begun = Date.now();
    process.stdout.write(`${suite}: ${name} … `);
    try {
      await test({ address: server.address, server, pages });
      passed++;
      console.log(`ok (${((Date.now() - begun) / 1000).toFixed(1)} s)`);
    } catch (error) {
      failed++;
      console.log(`FAILED\n${String(error.stack ?? error).split('\n').map((line) => `    ${line}`).join('\n')}`);
    }
    server.stall(false);
  }
  await server.close();
}
await closeShared();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
