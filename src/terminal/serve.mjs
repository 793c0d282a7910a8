// A small server for the built page on this machine alone: the same headers a careful host would send.
import { createReadStream, existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import path from 'node:path';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wav': 'audio/wav',
  '.zip': 'application/zip',
  '.woff2': 'font/woff2',
};

/** The policy of the built page: nothing from outside its own origin. One source for the header and for index.html. */
export const contentSecurityPolicy = readFileSync(
  path.join(import.meta.dirname, 'content-security-policy.txt'),
  'utf8',
).trim();

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
function refuse(response, status, text) {
  response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' }).end(text);
}

/**
 * Serves a folder on localhost.
 * @param {string} folder absolute path of the built page
 * @param {number} port first port to try; 0 for any
 * @returns {Promise<{ url: string, close: () => Promise<void> }>}
 */
export function serve(folder, port) {
  const server = createServer((request, response) => {
    const asked = pathAsked(request.url ?? '/');
    if (asked === undefined) {
      refuse(response, 400, 'bad request');
      return;
    }
    const file = path.join(folder, asked.endsWith('/') ? `${asked}index.html` : asked);
    const inside = file.startsWith(folder + path.sep);
    if (!inside || !existsSync(file) || !statSync(file).isFile()) {
      refuse(response, 404, 'not found');
      return;
    }
    response.writeHead(200, {
      'content-type': types[path.extname(file)] ?? 'application/octet-stream',
      'content-security-policy': contentSecurityPolicy,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'permissions-policy': 'microphone=(self), camera=(self), geolocation=()',
      'cache-control': asked.includes('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache',
    });
    // A file that goes away under the reading ends this answer, not the server.
    createReadStream(file)
      .on('error', () => response.destroy())
      .pipe(response);
  });
  return new Promise((resolve, reject) => {
    let next = port;
    server.on('error', (error) => {
      if (error.code !== 'EADDRINUSE' || next === 0 || next >= port + 20) reject(error);
      else server.listen(++next, '127.0.0.1');
    });
    server.on('listening', () =>
      resolve({
        url: `http://localhost:${server.address().port}/`,
        close: () => new Promise((done) => server.close(() => done())),
      }),
    );
    server.listen(port, '127.0.0.1');
  });
}
