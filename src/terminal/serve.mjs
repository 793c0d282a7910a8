// A small server for the built page on this machine alone: the same headers a careful host would send.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { createServer, get } from 'node:http';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wav': 'audio/wav',
  '.zip': 'application/zip',
  '.woff2': 'font/woff2',
};

/** What grows smaller when it is packed. */
const packable = new Set(['.html', '.js', '.css', '.json', '.txt', '.webmanifest', '.svg']);

/** Ways to pack, the better first. Each file is packed once; beyond these qualities it takes seconds for a hundredth. */
const packers = {
  br: (bytes) => promisify(brotliCompress)(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }),
  gzip: (bytes) => promisify(gzip)(bytes, { level: 9 }),
};

/** The policy of the built page: nothing from outside its own origin. One source for the header and for index.html. */
export const contentSecurityPolicy = readFileSync(
  path.join(import.meta.dirname, 'content-security-policy.txt'),
  'utf8',
).trim();

const headersOfAll = {
  // What may frame the page can be said in the header alone.
  'content-security-policy': `${contentSecurityPolicy}; frame-ancestors 'none'`,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'permissions-policy': 'microphone=(self), camera=(), geolocation=()',
};

/** Where the server says who it is. */
const identityPath = '/platewright-server.json';

/** By what one checkout of the program knows its own server. @param {string} root folder of the checkout */
export const identityOf = (root) => createHash('sha256').update(root).digest('hex').slice(0, 16);

/**
 * The path of a request's target, decoded.
 * @param {string} target
 * @returns {string | undefined} undefined where it is no path, or its percent signs spell no text
 */
function pathAsked(target) {
  try {
    // Behind a host of its own: a target that begins with two slashes is else read as a host and no path.
    return decodeURIComponent(new URL(`http://localhost${target}`).pathname);
  } catch (cause) {
    if (cause instanceof TypeError || cause instanceof URIError) return undefined;
    throw cause;
  }
}

/** Answers with a status and a line of text. */
function refuse(response, status, text, headers = {}) {
  response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8', ...headers }).end(`${text}\n`);
}

/** A file to read, with its size and time of change; undefined where there is none. */
async function opened(file) {
  // A name that no file can have is no file.
  const handle = await open(file).catch(() => undefined);
  const stat = await handle?.stat();
  if (stat?.isFile()) return { handle, stat };
  await handle?.close();
  return undefined;
}

/** Packs files once and keeps them packed as long as they stay as they are. */
function packing() {
  const kept = new Map();
  return async (file, { handle, stat }, coding) => {
    const key = `${coding} ${file}`;
    const state = `${stat.size} ${stat.mtimeMs}`;
    if (kept.get(key)?.state !== state) kept.set(key, { state, bytes: packers[coding](await handle.readFile()) });
    return kept.get(key).bytes;
  };
}

async function answer(request, response, { folder, identity, hosts, packed }) {
  // A page elsewhere can point a name of its own at this machine and read what is answered under that name.
  if (!hosts.has(request.headers.host || undefined))
    return refuse(response, 403, 'this server answers to localhost alone');
  if (request.method !== 'GET' && request.method !== 'HEAD')
    return refuse(response, 405, 'only GET and HEAD', { allow: 'GET, HEAD' });
  const asked = pathAsked(request.url ?? '/');
  if (asked === undefined) return refuse(response, 400, 'bad request');
  if (asked === identityPath) {
    response.writeHead(200, { ...headersOfAll, 'content-type': types['.json'], 'cache-control': 'no-store' });
    return response.end(JSON.stringify({ program: 'platewright', identity }));
  }
  const file = path.join(folder, asked.endsWith('/') ? `${asked}index.html` : asked);
  const found = file.startsWith(folder + path.sep) ? await opened(file) : undefined;
  if (found === undefined) return refuse(response, 404, 'not found');
  try {
    const ending = path.extname(file);
    const taken = (request.headers['accept-encoding'] ?? '').split(',').map((each) => each.split(';')[0].trim());
    const coding = packable.has(ending) ? Object.keys(packers).find((each) => taken.includes(each)) : undefined;
    const bytes = coding && (await packed(file, found, coding));
    response.writeHead(200, {
      ...headersOfAll,
      'content-type': types[ending] ?? 'application/octet-stream',
      'content-length': bytes?.length ?? found.stat.size,
      'cache-control': asked.includes('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache',
      ...(packable.has(ending) ? { vary: 'accept-encoding' } : {}),
      ...(coding ? { 'content-encoding': coding } : {}),
    });
    if (request.method === 'HEAD') response.end();
    else if (bytes) response.end(bytes);
    // A download that is broken off ends the reading too.
    else await pipeline(found.handle.createReadStream({ autoClose: false }), response);
  } finally {
    await found.handle.close();
  }
}

/**
 * Serves a folder on localhost.
 * @param {string} folder absolute path of the built page
 * @param {number} port 0 for any
 * @param {string} [identity] see `identityOf`
 * @returns {Promise<{ url: string, close: () => Promise<void> }>} rejected with the code EADDRINUSE where the port is taken
 */
export function serve(folder, port, identity = '') {
  const given = { folder, identity, hosts: new Set(), packed: packing() };
  const server = createServer((request, response) => {
    // A file that goes away under the reading, or one who hangs up, ends this answer, not the server.
    answer(request, response, given).catch(() => response.destroy());
  });
  return new Promise((resolve, reject) => {
    server.on('error', reject);
    server.on('listening', () => {
      const { port: taken } = server.address();
      for (const name of ['localhost', '127.0.0.1', '[::1]'])
        given.hosts.add(`${name}:${taken}`).add(taken === 80 ? name : '');
      resolve({
        url: `http://localhost:${taken}/`,
        close: () => new Promise((done) => server.close(() => done())),
      });
    });
    server.listen(port, '127.0.0.1');
  });
}

/** Who listens at one address, see `whoServes`. */
const whoListens = (host, port, identity) =>
  new Promise((resolve) => {
    const asked = get({ host, port, path: identityPath, headers: { host: `localhost:${port}` }, timeout: 3000 });
    asked.on('error', (error) => resolve(error.syscall === 'connect' ? 'nobody' : 'another-program'));
    asked.on('timeout', () => asked.destroy(new Error('no answer')));
    asked.on('response', async (response) => {
      try {
        const said = JSON.parse((await response.toArray()).join(''));
        if (said?.program !== 'platewright') resolve('another-program');
        else resolve(said.identity === identity ? 'ourselves' : 'another-copy');
      } catch {
        // No answer of ours.
        resolve('another-program');
      }
    });
  });

/**
 * Who listens on a port of this machine, under either of the addresses that "localhost" may stand for.
 * @param {number} port
 * @param {string} identity see `identityOf`
 * @returns {Promise<'nobody' | 'ourselves' | 'another-copy' | 'another-program'>}
 */
export async function whoServes(port, identity) {
  const found = await Promise.all(['127.0.0.1', '::1'].map((host) => whoListens(host, port, identity)));
  return ['another-program', 'another-copy', 'ourselves'].find((who) => found.includes(who)) ?? 'nobody';
}
