// The server of the built page, asked what no browser asks: bytes straight onto a socket, since clients tidy paths up.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { serve } from '../../src/terminal/serve.mjs';

let folder: string;
let server: Awaited<ReturnType<typeof serve>>;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'platewright-serve-'));
  mkdirSync(path.join(folder, 'page'));
  mkdirSync(path.join(folder, 'page-beside'));
  writeFileSync(path.join(folder, 'page/index.html'), 'the page');
  writeFileSync(path.join(folder, 'page/50 %.html'), 'half');
  writeFileSync(path.join(folder, 'secret'), 'secret');
  writeFileSync(path.join(folder, 'page-beside/secret'), 'secret');
  server = await serve(path.join(folder, 'page'), 0);
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true });
});

/** Status and text of the answer to one request whose target goes out as it is given. */
function ask(target: string): Promise<readonly [status: number, text: string]> {
  return new Promise((resolve, reject) => {
    let answer = '';
    const socket = connect(Number(new URL(server.url).port), '127.0.0.1')
      .on('data', (bytes) => {
        answer += bytes;
      })
      .on('end', () => resolve([Number(answer.split(' ')[1]), answer.split('\r\n\r\n')[1] ?? '']))
      .on('error', reject);
    socket.write(`GET ${target} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n`);
  });
}

test.each([
  ['/', 200],
  ['/50%20%25.html', 200],
  ['/?a=%', 200],
  ['//', 200],
  ['/none', 404],
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
  const [said, text] = await ask(target);
  expect([said, text.includes('secret')]).toEqual([status, false]);
  expect((await ask('/')).at(1)).toContain('the page');
});
