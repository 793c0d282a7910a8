// `npm start`: install if needed, build, serve on this machine, open the page.
import { spawn, spawnSync } from 'node:child_process';
import path from 'node:path';
import { installIfNeeded } from './install-if-needed.mjs';
import { serve } from './serve.mjs';

const root = path.resolve(import.meta.dirname, '../..');
installIfNeeded();
const vite = path.join(root, 'node_modules/vite/bin/vite.js');
const built = spawnSync(process.execPath, [vite, 'build', '--logLevel', 'warn'], { cwd: root, stdio: 'inherit' });
if (built.status !== 0) process.exit(built.status ?? 1);
const { url } = await serve(path.join(root, 'dist'), Number(process.env.PORT ?? 4173));
console.log(`Platewright is at ${url}  (stop with Ctrl+C)`);
if (!process.env.CI && !process.env.NO_OPEN) openBrowser(url);

function openBrowser(address) {
  const [command, ...given] = { darwin: ['open'], win32: ['cmd', '/c', 'start', ''] }[process.platform] ?? ['xdg-open'];
  const opener = spawn(command, [...given, address], { stdio: 'ignore', detached: true });
  opener.on('error', () => console.log('Open this address in a browser.'));
  opener.unref();
}
