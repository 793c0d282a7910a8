// `npm start`: install if needed, build if anything changed, serve on this machine, open the page. A browser keeps records by
// address: the page is served at the one it always had, or not at all.
import { spawn } from 'node:child_process';
import path from 'node:path';
import { build, isBuilt } from './build.mjs';
import { installIfNeeded } from './install-if-needed.mjs';
import { identityOf, serve, whoServes } from './serve.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const port = Number(process.env.PORT ?? 4173);
const address = `http://localhost:${port}/`;

installIfNeeded();
const there = await whoServes(port, identityOf(root));
if (there === 'another-copy' || there === 'another-program') {
  console.error(
    there === 'another-copy'
      ? `Another copy of Platewright, from another folder, is being served at ${address}`
      : `Another program is using the address ${address}`,
  );
  console.error('Your browser keeps your records under that address; at any other the shelf would be empty.');
  console.error('End the other one and start again, or choose another address for good: PORT=4200 npm start');
  process.exit(1);
}
if (!isBuilt(root)) {
  console.log('Building the page ...');
  if (!build(root)) process.exit(1);
}
if (there === 'ourselves') console.log(`Platewright is already running at ${address}`);
else {
  await serve(path.join(root, 'dist'), port, identityOf(root));
  console.log(`Platewright is at ${address}  (stop with Ctrl+C)`);
}
if (!process.env.CI && !process.env.NO_OPEN) openBrowser(address);

function openBrowser(url) {
  const [command, ...given] = { darwin: ['open'], win32: ['cmd', '/c', 'start', ''] }[process.platform] ?? ['xdg-open'];
  const opener = spawn(command, [...given, url], { stdio: 'ignore', detached: true });
  opener.on('error', () => console.log('Open this address in a browser.'));
  opener.unref();
}
