// Merging 50,000 field edits, beside Automerge, Yjs and cr-sqlite
//
// 20,000 entries of five fields; two sides make 20,000 saves each, not seeing the other: amount and note, every
// second save also what, 50,000 field edits. Then one side takes what the other did. Steepbook's store lies on
// disk and keeps who wrote what when, and every value; the others are in memory. tests/bench/fetch brings
// them; one that is not there is left out. Prints one JSON object a line.
import {execFileSync} from 'node:child_process';
import {existsSync, mkdirSync, readFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join, resolve} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {gzipSync} from 'node:zlib';

const root = resolve(fileURLToPath(import.meta.url), '../../..');
const library = createRequire(join(root, 'build/bench/npm/package.json'));
const kEntries = 20_000, kSaves = 20_000, kRuns = 3;
const words = ['foam', 'high', 'clear', 'warm', 'smells', 'earthy', 'slow', 'again', 'checked', 'steady'];
const whats = ['fed', 'topped-up', 'moved'];

// xorshift32: the same edits for everybody.
function chance(seed) {
  let state = seed;
  return (n) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % n;
  };
}
const note = (below) => Array.from({length: 2 + below(5)}, () => words[below(words.length)]).join(' ');
const amount = (below) => `${1 + below(20)}.${String(below(100)).padStart(2, '0')} gal`;
function entries() {
  const below = chance(2463534242);
  return Array.from({length: kEntries}, (_, i) => ({
    brew: `brew-${Math.floor(i / 20)}`, what: whats[below(3)], at: `2026-05-14T${String(i % 24).padStart(2, '0')}:04:12-07:00`,
    amount: amount(below), note: note(below)}));
}
function saves(side) {
  const below = chance(88675123 + side);
  return Array.from({length: kSaves}, () => {
    const save = {entry: below(kEntries), amount: amount(below), note: note(below)};
    if (below(2)) save.what = whats[below(3)];
    return save;
  });
}

const median = (all) => all.sort((a, b) => a - b)[Math.floor(all.length / 2)];
const timed = async (work) => {
  globalThis.gc?.();
  const begun = performance.now(), spent = process.cpuUsage();
  await work();
  const {user, system} = process.cpuUsage(spent), seconds = (performance.now() - begun) / 1000;
  console.error(`  ${seconds.toFixed(3)} s, of the processor ${((user + system) / 1e6).toFixed(3)} s`);
  return seconds;
};
const mb = (bytes) => bytes / 1e6;

async function yjs() {
  const Y = library('yjs');
  const write = (doc, save) => {
    const entry = doc.getMap('entries').get(String(save.entry));
    for (const key of ['amount', 'note', 'what']) if (save[key] !== undefined) entry.set(key, save[key]);
  };
  const make = (from, side) => {
    const doc = new Y.Doc({gc: false});
    Y.applyUpdate(doc, from);
    for (const save of saves(side)) doc.transact(() => write(doc, save));
    return doc;
  };
  const base = new Y.Doc({gc: false});
  base.transact(() => entries().forEach((entry, i) => base.getMap('entries').set(String(i), new Y.Map(Object.entries(entry)))));
  const start = Y.encodeStateAsUpdate(base), theirs = make(start, 2), seconds = [];
  let delta, mine;
  for (let run = 0; run < kRuns; ++run) {
    mine = make(start, 1);
    delta = Y.encodeStateAsUpdate(theirs, Y.encodeStateVector(mine));
    seconds.push(await timed(() => Y.applyUpdate(mine, delta)));
  }
  return {name: 'Yjs', seconds: median(seconds), delta: mb(delta.length), whole: mb(Y.encodeStateAsUpdate(mine).length)};
}

async function automerge() {
  const A = library('@automerge/automerge');
  const make = (from, side) => A.change(A.clone(from), (doc) => {
    for (const save of saves(side))
      for (const key of ['amount', 'note', 'what']) if (save[key] !== undefined) doc.entries[save.entry][key] = new A.ImmutableString(save[key]);
  });
  const text = (entry) => Object.fromEntries(Object.entries(entry).map(([key, value]) => [key, new A.ImmutableString(value)]));
  const base = A.from({entries: entries().map(text)});
  const theirs = make(base, 2), seconds = [];
  let merged, delta;
  for (let run = 0; run < kRuns; ++run) {
    const mine = make(base, 1);
    delta = A.getChanges(mine, theirs);
    seconds.push(await timed(() => { [merged] = A.applyChanges(mine, delta); }));
  }
  return {name: 'Automerge', seconds: median(seconds), delta: mb(delta.reduce((sum, one) => sum + one.length, 0)), whole: mb(A.save(merged).length)};
}

async function crsqlite() {
  const folder = join(root, 'build/bench/npm/node_modules/@vlcn.io/crsqlite-wasm/dist');
  // Its loader fetches its WebAssembly by address, which Node.js does not do for files.
  const fetched = globalThis.fetch;
  globalThis.fetch = async () => new Response(readFileSync(join(folder, 'crsqlite.wasm')), {headers: {'content-type': 'application/wasm'}});
  const {default: init} = await import(pathToFileURL(join(folder, 'index.js')));
  const sqlite = await init(() => join(folder, 'crsqlite.wasm'));
  globalThis.fetch = fetched;
  const copy = async () => {
    const db = await sqlite.open();
    await db.exec('PRAGMA temp_store=MEMORY');
    await db.exec('CREATE TABLE entry (id INTEGER PRIMARY KEY NOT NULL, brew TEXT, what TEXT, at TEXT, amount TEXT, note TEXT)');
    await db.exec("SELECT crsql_as_crr('entry')");
    return db;
  };
  const columns = '"table", "pk", "cid", "val", "col_version", "db_version", "site_id", "cl", "seq"';
  const changes = (db, since) => db.execA(`SELECT ${columns} FROM crsql_changes WHERE db_version > ${since} AND site_id = crsql_site_id()`);
  const apply = (db, rows) => db.tx(async (tx) => {
    const insert = await tx.prepare(`INSERT INTO crsql_changes (${columns}) VALUES (?,?,?,?,?,?,?,?,?)`);
    for (const row of rows) await insert.run(tx, ...row);
    await insert.finalize(tx);
  });
  const version = async (db) => (await db.execA('SELECT crsql_db_version()'))[0][0];
  const base = await copy();
  await base.tx(async (tx) => {
    const insert = await tx.prepare('INSERT INTO entry VALUES (?,?,?,?,?,?)');
    for (const [i, entry] of entries().entries()) await insert.run(tx, i, entry.brew, entry.what, entry.at, entry.amount, entry.note);
    await insert.finalize(tx);
  });
  const start = await changes(base, 0);
  const make = async (side) => {
    const db = await copy();
    await apply(db, start);
    const since = await version(db);
    await db.tx(async (tx) => {
      const two = await tx.prepare('UPDATE entry SET amount=?, note=? WHERE id=?');
      const three = await tx.prepare('UPDATE entry SET amount=?, note=?, what=? WHERE id=?');
      for (const save of saves(side))
        if (save.what) await three.run(tx, save.amount, save.note, save.what, save.entry);
        else await two.run(tx, save.amount, save.note, save.entry);
      await two.finalize(tx);
      await three.finalize(tx);
    });
    return {db, since};
  };
  const theirs = await make(2), delta = await changes(theirs.db, theirs.since), seconds = [];
  let mine;
  for (let run = 0; run < kRuns; ++run) {
    mine = await make(1);
    seconds.push(await timed(() => apply(mine.db, delta)));
  }
  const pages = (await mine.db.execA('PRAGMA page_count'))[0][0];
  return {name: 'cr-sqlite', seconds: median(seconds), delta: mb(gzipSync(JSON.stringify(delta, (_, v) => (v instanceof Uint8Array ? Buffer.from(v).toString('base64') : typeof v === 'bigint' ? Number(v) : v))).length), whole: mb(Number(pages) * 4096)};
}

/// Our own program, natively and as WebAssembly: figures as 'name value' lines.
function ours(name, program) {
  if (!existsSync(program)) throw new Error('not built');
  const [command, ...args] = program.endsWith('.js') ? [process.execPath, program] : [program];
  const folder = join(root, 'build/bench');
  mkdirSync(folder, {recursive: true});
  const out = execFileSync(command, [...args, '--fields', folder], {encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'], maxBuffer: 1 << 24});
  console.error(`${name}\n${out}`);
  const figures = Object.fromEntries(out.trim().split('\n').map((line) => line.split(' ')).map(([key, value]) => [key, Number(value)]));
  return {name, seconds: figures.merge_wall, delta: figures.delta_mb, whole: figures.whole_mb, store: figures.store_mb};
}

async function tried(name, work) {
  try {
    return await work();
  } catch (problem) {
    console.error(`${name} is left out: ${problem.message}`);
    return null;
  }
}

const print = (name, value, unit, against, ratio) =>
  console.log(JSON.stringify({name, value: Number(value.toPrecision(4)), unit, against, ratio: Number(ratio.toPrecision(3))}));

const mine = [
  await tried('ours natively', () => ours('Steepbook natively', join(root, 'build/native/steepbook_bench_merge'))),
  await tried('ours as WebAssembly', () => ours('Steepbook as WebAssembly', join(root, 'build/page/steepbook_bench_merge_wasm.js'))),
].filter(Boolean);
const others = [await tried('Yjs', yjs), await tried('Automerge', automerge), await tried('cr-sqlite', crsqlite)].filter(Boolean);
const what = '50,000 field edits merged: ';
for (const other of others) {
  print(`${what}${other.name}`, other.seconds, 's', 'itself', 1);
  for (const one of mine) print(`${what}${one.name}`, one.seconds, 's', `${other.name}, its time to this`, other.seconds / one.seconds);
}
if (!others.length) for (const one of mine) print(`${what}${one.name}`, one.seconds, 's', 'itself', 1);
for (const one of mine.slice(0, 1)) {
  for (const other of others) {
    print(`${what}what goes over, ${other.name}`, other.delta, 'MB', 'ours, gzip', other.delta / one.delta);
    print(`${what}all of it kept, ${other.name}`, other.whole, 'MB', 'our file, gzip', other.whole / one.whole);
  }
  print(`${what}our store on disk`, one.store, 'MB', 'our file, gzip', one.store / one.whole);
}
process.exit(0);
