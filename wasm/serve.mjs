// Serves a folder on this machine, for trying the page:  node wasm/serve.mjs build/wasm [port]
// The desktop program's `steepbook serve` does the same; this is for machines without it.
//
// Listens on 127.0.0.1 only: a browser takes that for safe, so the page may work offline from there.
// Everything may be kept but has to be asked for again ('no-cache'), else a new version would not be
// seen; files with a hash in their name ('steepbook.3f2a9c1d.wasm') never change and are kept for good.
import { createReadStream, promises as files } from 'node:fs';
import http from 'node:http';
import path from 'node:path';

export const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.wasm': 'application/wasm',
  '.otf': 'font/otf',
  '.ttf': 'font/ttf',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.ico': 'image/x-icon',
  '.txt': 'text/plain; charset=utf-8',
};

/** The file that an address stands for, or null: nothing outside the folder, no hidden files. */
export function fileOf(folder, address) {
  let name;
  try {
    name = decodeURIComponent(address.split(/[?#]/)[0]);
  } catch {
    return null;
  }
  if (name.includes('\0') || name.split('/').some((part) => part.startsWith('.'))) return null;
  if (name.endsWith('/')) name += 'index.html';
  const file = path.join(folder, name);
  return file.startsWith(path.resolve(folder) + path.sep) ? file : null;
}

/** The file as this browser may have it: what wasm/compress.mjs put beside it, else itself. A form older than the file is of another. */
async function formOf(file, accepted = '') {
  const plain = { name: file, state: await files.stat(file).catch(() => null) };
  for (const [coding, ending] of [['br', '.br'], ['gzip', '.gz']]) {
    if (!accepted.split(',').some((one) => one.split(';')[0].trim() === coding)) continue;
    const state = await files.stat(file + ending).catch(() => null);
    if (state?.isFile() && plain.state && state.mtimeMs >= plain.state.mtimeMs) return { name: file + ending, state, coding };
  }
  return plain;
}

/** A server of the folder, not yet listening. */
export function makeServer(folder) {
  const root = path.resolve(folder);
  return http.createServer(async (request, answer) => {
    const refuse = (code, sentence) => {
      answer.writeHead(code, { 'Content-Type': 'text/plain; charset=utf-8', 'Cache-Control': 'no-store' });
      answer.end(sentence + '\n');
    };
    if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(405, 'Only files are given here.');
    const file = fileOf(root, request.url);
    const { name, state, coding } = file ? await formOf(file, request.headers['accept-encoding']) : {};
    if (!state?.isFile()) return refuse(404, 'There is no such file.');
    const tag = `"${state.size.toString(16)}-${Math.round(state.mtimeMs).toString(16)}"`;
    const headers = {
      'Content-Type': types[path.extname(file)] ?? 'application/octet-stream',
      'Cache-Control': /\.[0-9a-f]{8,}\.\w+$/.test(file) ? 'public, max-age=31536000, immutable' : 'no-cache',
      'X-Content-Type-Options': 'nosniff',
      ETag: tag,
      Vary: 'Accept-Encoding',
      ...(coding && { 'Content-Encoding': coding }),
    };
    if (request.headers['if-none-match'] === tag) {
      answer.writeHead(304, headers);
      return answer.end();
    }
    answer.writeHead(200, { ...headers, 'Content-Length': state.size });
    if (request.method === 'HEAD') return answer.end();
    createReadStream(name).on('error', () => answer.destroy()).pipe(answer);
  });
}

/** Listens on 127.0.0.1; port 0 takes any that is free. Resolves with the address. */
export function listen(server, port) {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => resolve(`http://127.0.0.1:${server.address().port}/`));
  });
}

if (import.meta.url === new URL(process.argv[1], 'file:').href) {
  const [folder = 'build/wasm', port = '8470'] = process.argv.slice(2);
  const server = makeServer(folder);
  const address = await listen(server, Number(port)).catch(async (problem) => {
    if (problem.code !== 'EADDRINUSE') throw problem;
    return listen(makeServer(folder), 0);
  });
  console.log(`Steepbook is at ${address} (this machine only; Ctrl+C ends it).`);
}
