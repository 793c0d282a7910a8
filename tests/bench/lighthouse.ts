// Lighthouse on a first visit to the page as it is served: mobile preset, median of five. It is no dependency of the project
// (two hundred packages for one figure): npx fetches it when this is asked for.
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { findChromium } from '../browser/chromium.ts';
import { inChromium } from './built-page.ts';

/** The last one that runs on Node 20. */
const LIGHTHOUSE = 'lighthouse@12.8.2';
const RUNS = 5;

interface Report {
  readonly categories: { readonly performance: { readonly score: number } };
  readonly audits: Readonly<Record<string, { readonly numericValue: number }>>;
}

const shown: readonly (readonly [what: string, of: (report: Report) => number, aim: string])[] = [
  ['performance', (report) => report.categories.performance.score, '0.95 or more'],
  ['first paint, ms', (report) => report.audits['first-contentful-paint']!.numericValue, ''],
  ['largest paint, ms', (report) => report.audits['largest-contentful-paint']!.numericValue, ''],
  ['blocked, ms', (report) => report.audits['total-blocking-time']!.numericValue, ''],
  ['layout shift', (report) => report.audits['cumulative-layout-shift']!.numericValue, '0.05 or less'],
  ['over the wire, kB', (report) => report.audits['total-byte-weight']!.numericValue / 1000, '500 or less'],
];

/** Median, least and most of each figure. */
export function lighthouseFigures(): Promise<readonly string[]> {
  return inChromium({}, async (page, url) => {
    // A page that shows nothing would have the best of figures.
    await page.goto(url);
    await page.locator('.figure-number').first().waitFor();
    return figuresOf(url);
  });
}

async function figuresOf(url: string): Promise<readonly string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-lighthouse-'));
  const { executablePath, env } = findChromium();
  const reports: Report[] = [];
  try {
    for (let run = 0; run < RUNS; run++) {
      const file = path.join(folder, `${run}.json`);
      await promisify(execFile)(
        'npx',
        [
          ...['--yes', LIGHTHOUSE, url, '--quiet', '--only-categories=performance', '--output=json'],
          ...[`--output-path=${file}`, '--chrome-flags=--headless --no-sandbox --disable-background-networking'],
        ],
        { cwd: folder, env: { ...env, CHROME_PATH: executablePath } },
      );
      reports.push(JSON.parse(readFileSync(file, 'utf8')) as Report);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return shown.map(([what, of, aim]) => {
    const values = reports.map(of).sort((a, b) => a - b);
    const [least, median, most] = [values[0]!, values[RUNS >> 1]!, values.at(-1)!].map((value) =>
      value < 2 ? value.toFixed(3) : value.toFixed(0),
    );
    return `${what.padEnd(20)} ${median} (${least} to ${most})${aim === '' ? '' : `, aim ${aim}`}`;
  });
}
