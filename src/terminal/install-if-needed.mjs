// Plain JavaScript, because it runs before anything is installed.
import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');

/** Installs the packages the lockfile names, unless that has been done since the lockfile last changed. */
export function installIfNeeded() {
  const lock = path.join(root, 'package-lock.json');
  const done = path.join(root, 'node_modules/.package-lock.json');
  if (existsSync(done) && statSync(done).mtimeMs >= statSync(lock).mtimeMs) return;
  console.log('Installing packages (once) ...');
  const npm = spawnSync('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error', '--no-update-notifier'], {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  if (npm.status !== 0) {
    console.error('The packages could not be installed. Is there a network, and is Node 20.19 or newer?');
    process.exit(1);
  }
}

if (process.argv[1] === import.meta.filename) installIfNeeded();
