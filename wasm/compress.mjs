// Puts compressed forms beside the files of a page:   node wasm/compress.mjs FOLDER
//
// 'x.wasm' gets 'x.wasm.br' and 'x.wasm.gz'. Servers that know precompressed files (wasm/serve.mjs, `steepbook serve`,
// most web servers by a setting) send these to browsers that take them; any other server sends the file itself.
// Prints what a first visit weighs in both.
import fs from 'node:fs';
import path from 'node:path';
import zlib from 'node:zlib';

const kGoalKb = 900;
const kLater = /^rescue\./;  // The page for trouble: kept for offline use, not on the way to the first screen.

function packed(bytes) {
  const parameters = {
    [zlib.constants.BROTLI_PARAM_QUALITY]: zlib.constants.BROTLI_MAX_QUALITY,
    [zlib.constants.BROTLI_PARAM_LGWIN]: zlib.constants.BROTLI_MAX_WINDOW_BITS,
    [zlib.constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
  };
  return { gz: zlib.gzipSync(bytes, { level: 9 }), br: zlib.brotliCompressSync(bytes, { params: parameters }) };
}

const kb = (bytes) => (bytes / 1000).toFixed(1).padStart(8);
const folder = process.argv[2];
const sums = { first: { gz: 0, br: 0 }, all: { gz: 0, br: 0 } };

for (const name of fs.readdirSync(folder).sort()) {
  if (/\.(br|gz)$/.test(name)) continue;
  const file = path.join(folder, name);
  const bytes = fs.readFileSync(file);
  const forms = packed(bytes);
  const sent = {};
  for (const [ending, form] of Object.entries(forms)) {
    const smaller = form.length < 0.95 * bytes.length;
    if (smaller) fs.writeFileSync(`${file}.${ending}`, form);
    sent[ending] = smaller ? form.length : bytes.length;
    sums.all[ending] += sent[ending];
    if (!kLater.test(name)) sums.first[ending] += sent[ending];
  }
  console.log(`  ${name.padEnd(36)} ${kb(bytes.length)} kB ${kb(sent.gz)} gzip ${kb(sent.br)} brotli`);
}
const line = (what, sum) => console.log(`  ${what}: ${Math.round(sum.gz / 1000)} kB by gzip, ${Math.round(sum.br / 1000)} kB by brotli`);
line('all files', sums.all);
line(`first visit (goal ${kGoalKb})`, sums.first);
