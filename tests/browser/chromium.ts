// Finds a Chromium for the browser tests: the one CHROMIUM_PATH names, the usual places, else the one that comes
// packed with the packages (Linux on x64), unpacked here so that no package manager is needed.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { brotliDecompressSync } from 'node:zlib';

export interface FoundBrowser {
  readonly executablePath: string;
  readonly env: Record<string, string>;
}

const usualPlaces = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

const ownEnvironment = (): Record<string, string> =>
  Object.fromEntries(Object.entries(process.env).filter((entry): entry is [string, string] => entry[1] !== undefined));

/** A browser that can be started, with the environment it needs. @throws Error with what to install where there is none */
export function findChromium(): FoundBrowser {
  const asked = process.env['CHROMIUM_PATH'];
  if (asked !== undefined && existsSync(asked)) return { executablePath: asked, env: ownEnvironment() };
  const usual =
    process.env['CHROMIUM_BUNDLED'] === undefined ? usualPlaces.find((place) => existsSync(place)) : undefined;
  if (usual !== undefined) return { executablePath: usual, env: ownEnvironment() };
  return unpack();
}

/** Its own fonts alone: the ones of the system are where its own configuration does not look. */
const fontsOf = (folder: string): string => `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${path.join(folder, 'fonts')}</dir>
  <cachedir>${path.join(folder, 'font-cache')}</cachedir>
</fontconfig>
`;

function unpack(): FoundBrowser {
  const folder = path.resolve(import.meta.dirname, '../../node_modules/.cache/chromium');
  const executablePath = path.join(folder, 'chromium');
  if (!existsSync(executablePath)) unpackInto(folder);
  return {
    executablePath,
    env: {
      ...ownEnvironment(),
      LD_LIBRARY_PATH: path.join(folder, 'lib'),
      FONTCONFIG_FILE: path.join(folder, 'platewright-fonts.conf'),
    },
  };
}

function unpackInto(folder: string): void {
  const packed = packedFolder();
  // Unpacked aside and renamed when it is whole: runs may overlap, and may be killed half way.
  const aside = `${folder}-${process.pid}`;
  mkdirSync(aside, { recursive: true });
  for (const archive of ['al2023.tar.br', 'fonts.tar.br', 'swiftshader.tar.br']) {
    const tar = path.join(aside, archive.slice(0, -'.br'.length));
    writeFileSync(tar, brotliDecompressSync(readFileSync(path.join(packed, archive))));
    execFileSync('tar', ['xf', tar, '-C', aside, '--no-same-owner']);
    rmSync(tar);
  }
  writeFileSync(path.join(aside, 'platewright-fonts.conf'), fontsOf(folder));
  writeFileSync(path.join(aside, 'chromium'), brotliDecompressSync(readFileSync(path.join(packed, 'chromium.br'))), {
    mode: 0o755,
  });
  try {
    renameSync(aside, folder);
  } catch (cause) {
    // Another run was quicker.
    if (!existsSync(path.join(folder, 'chromium'))) throw cause;
    rmSync(aside, { recursive: true });
  }
}

function packedFolder(): string {
  try {
    const main = createRequire(import.meta.url).resolve('@sparticuz/chromium');
    return path.resolve(path.dirname(main), '../../bin');
  } catch (cause) {
    throw new Error(
      'No Chromium was found: install one (for instance the package "chromium") or set CHROMIUM_PATH to it.',
      { cause },
    );
  }
}
