// The page held against the rules of WCAG 2.2 AA.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

interface Found {
  readonly id: string;
  readonly impact: string | null;
  readonly where: readonly string[];
}

/** Serious and critical findings. The script is evaluated, not added as an element: the page's policy forbids that. */
export async function seriousFindings(page: Page): Promise<readonly Found[]> {
  await page.evaluate(readFileSync(axePath, 'utf8'));
  const results = await page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: {
        run(
          given: unknown,
        ): Promise<{ violations: { id: string; impact: string | null; nodes: { html: string }[] }[] }>;
      };
    };
    const run = await axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] });
    return run.violations.map(({ id, impact, nodes }) => ({
      id,
      impact,
      where: nodes.map((node) => node.html.slice(0, 120)),
    }));
  });
  return results.filter((found) => found.impact === 'serious' || found.impact === 'critical');
}
