// The Chromium that comes with the packages, for machines that have no other: it starts from an environment that names no
// browser and no fonts, and draws letters.
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { expect, onTestFinished, test, vi } from 'vitest';
import { findChromium } from './chromium.ts';
import { patienceMs } from './page.ts';

test.runIf(process.platform === 'linux' && process.arch === 'x64')(
  'with no Chromium named or installed the packed one is found, and has fonts of its own',
  async () => {
    onTestFinished(() => {
      vi.unstubAllEnvs();
    });
    vi.stubEnv('CHROMIUM_PATH', undefined);
    vi.stubEnv('CHROMIUM_BUNDLED', '1');
    const { executablePath, env } = findChromium();
    expect(existsSync(executablePath)).toBe(true);
    expect(executablePath).toContain('node_modules');
    const browser = await chromium.launch({
      executablePath,
      env,
      args: ['--no-sandbox', '--disable-gpu'],
      timeout: patienceMs,
    });
    onTestFinished(() => browser.close());
    const page = await browser.newPage();
    await page.setContent('<span style="font-size: 100px">iiii</span><br><span style="font-size: 100px">MMMM</span>');
    const [narrow = 0, wide = 0] = await page
      .locator('span')
      .evaluateAll((spans) => spans.map((span) => span.getBoundingClientRect().width));
    // letters of a font have widths of their own; the empty boxes drawn without one are alike
    expect(narrow).toBeGreaterThan(0);
    expect(wide).toBeGreaterThan(2 * narrow);
  },
);
