// The server of the built page, asked what no browser asks: bytes straight onto a socket, since clients tidy requests up.
import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { connect, createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { identityOf, serve, whoServes } from '../../src/terminal/serve.mjs';

const script = 'export const taps = "tap, tap, tap";\n'.repeat(500);
let folder: string;
let server: Awaited<ReturnType<typeof serve>>;
let port: number;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'platewright-serve-'));
  mkdirSync(path.join(folder, 'page/assets'), { recursive: true });
  mkdirSync(path.join(folder, 'page-beside'));
  writeFileSync(path.join(folder, 'page/index.html'), 'the page');
  writeFileSync(path.join(folder, 'page/50 %.html'), 'half');
  writeFileSync(path.join(folder, 'page/assets/a.js'), script);
  writeFileSync(path.join(folder, 'page/large.wav'), randomBytes(8_000_000));
  writeFileSync(path.join(folder, 'secret'), 'secret');
  writeFileSync(path.join(folder, 'page-beside/secret'), 'secret');
  server = await serve(path.join(folder, 'page'), 0, identityOf('/a/folder'));
  port = Number(new URL(server.url).port);
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true });
});

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Buffer;
}

/** The answer to one request that goes out as it is given. */
function ask(
  target: string,
  { method = 'GET', host = `localhost:${port}`, more = '' }: { method?: string; host?: string; more?: string } = {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    const socket = connect(port, '127.0.0.1')
      .on('data', (bytes) => parts.push(bytes))
      .on('end', () => {
        const bytes = Buffer.concat(parts);
        const end = bytes.indexOf('\r\n\r\n');
        const [first = '', ...lines] = bytes.subarray(0, end).toString('latin1').split('\r\n');
        const headers = Object.fromEntries(
          lines.map((line) => [line.split(':')[0]!.toLowerCase(), line.slice(line.indexOf(':') + 1).trim()]),
        );
        resolve({ status: Number(first.split(' ')[1]), headers, body: bytes.subarray(end + 4) });
      })
      .on('error', reject);
    socket.write(`${method} ${target} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n${more}\r\n`);
  });
}

test.each([
  ['/', 200],
  ['/50%20%25.html', 200],
  ['/?a=%', 200],
  ['//', 200],
  ['/none', 404],
  ['/assets', 404],
  ['//host/none', 404],
  ['/../secret', 404],
  ['/%2e%2e/secret', 404],
  ['/%2e%2e%2fsecret', 404],
  ['/..%2fpage-beside%2fsecret', 404],
  ['/..%5csecret', 404],
  ['/%00', 404],
  ['/%', 400],
  ['/%ff', 400],
  ['@other/', 400],
])('a request for %s is answered with %i, and the next one is answered too', async (target, status) => {
  const said = await ask(target);
  expect([said.status, said.body.includes('secret')]).toEqual([status, false]);
  expect((await ask('/')).body.toString()).toContain('the page');
});

describe('the server answers', () => {
  test.each(['localhost', '127.0.0.1', '[::1]'])('to the name %s with its port', async (name) => {
    expect((await ask('/', { host: `${name}:${port}` })).status).toBe(200);
  });

  test.each(['other.example', 'localhost', 'localhost.other.example', `localhost:${1}`, ''])(
    'not to the name "%s"',
    async (host) => {
      const said = await ask('/', { host });
      expect([said.status, said.body.includes('the page')]).toEqual([403, false]);
    },
  );

  test.each(['POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH'])('not to %s', async (method) => {
    const said = await ask('/', { method, more: 'Content-Length: 0\r\n' });
    expect([said.status, said.headers['allow']]).toEqual([405, 'GET, HEAD']);
  });

  test('HEAD with the headers of GET and nothing else', async () => {
    const [head, get] = await Promise.all([ask('/assets/a.js', { method: 'HEAD' }), ask('/assets/a.js')]);
    const { date: _of, ...same } = get.headers;
    expect(head.headers).toMatchObject(same);
    expect(head.body.length).toBe(0);
    expect(get.body.toString()).toBe(script);
  });

  test('with a policy that lets nobody frame the page, and asks for the microphone alone', async () => {
    const { headers } = await ask('/');
    expect(headers['content-security-policy']).toMatch(/; frame-ancestors 'none'$/);
    expect(headers['permissions-policy']).toBe('microphone=(self), camera=(), geolocation=()');
  });
});

describe('packing', () => {
  test.each([
    ['gzip, deflate, br, zstd', 'br', brotliDecompressSync],
    ['gzip', 'gzip', gunzipSync],
  ])('for one who takes %s a script travels as %s and is the same', async (takes, coding, unpack) => {
    const said = await ask('/assets/a.js', { more: `Accept-Encoding: ${takes}\r\n` });
    expect(said.headers).toMatchObject({ 'content-encoding': coding, vary: 'accept-encoding' });
    expect(said.body.length).toBeLessThan(script.length / 10);
    expect(unpack(said.body).toString()).toBe(script);
  });

  test('a file that changed is packed anew; what cannot be packed smaller travels as it is', async () => {
    const file = path.join(folder, 'page/changing.js');
    for (const text of ['first', 'second, longer']) {
      writeFileSync(file, text);
      const said = await ask('/changing.js', { more: 'Accept-Encoding: br\r\n' });
      expect(brotliDecompressSync(said.body).toString()).toBe(text);
    }
    const sound = await ask('/large.wav', { more: 'Accept-Encoding: br\r\n' });
    expect([sound.headers['content-encoding'], sound.body.length]).toEqual([undefined, 8_000_000]);
  });
});

/** Files this process holds open; only where the system tells. */
const openFiles = () => readdirSync('/proc/self/fd').length;

test.runIf(existsSync('/proc/self/fd'))('a download that is broken off leaves no file open', async () => {
  const broken = () =>
    new Promise<void>((resolve) => {
      const socket: Socket = connect(port, '127.0.0.1')
        .once('data', () => socket.resetAndDestroy())
        .on('close', () => resolve());
      socket.write(`GET /large.wav HTTP/1.1\r\nHost: localhost:${port}\r\n\r\n`);
    });
  await broken();
  const before = openFiles();
  for (let i = 0; i < 40; i++) await broken();
  // The server learns of it some time later; what leaks never comes back.
  await expect.poll(openFiles, { timeout: 20_000 }).toBeLessThanOrEqual(before + 2);
});

describe('who is there', () => {
  test('a port that is free, our own server, that of another folder, and another program are told apart', async () => {
    const other = createServer((socket) =>
      socket
        .resume()
        .on('error', () => undefined)
        .end('220 something else\r\n'),
    );
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    onTestFinished(() => void other.close());
    const address = other.address();
    const theirs = typeof address === 'object' && address !== null ? address.port : 0;
    expect(await whoServes(port, identityOf('/a/folder'))).toBe('ourselves');
    expect(await whoServes(port, identityOf('/another/folder'))).toBe('another-copy');
    expect(await whoServes(theirs, identityOf('/a/folder'))).toBe('another-program');
    await new Promise((resolve) => other.close(resolve));
    expect(await whoServes(theirs, identityOf('/a/folder'))).toBe('nobody');
  });

  test('a port that is taken is refused, never another one taken for it', async () => {
    await expect(serve(path.join(folder, 'page'), port)).rejects.toMatchObject({ code: 'EADDRINUSE' });
  });
});
