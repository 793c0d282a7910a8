// The sizes of the synthetic box, typed as a maker types them.
import type { Page } from 'playwright-core';
import { holeEdgeM, holeRadiusM, trueBox } from '../compare/box-story.ts';
import { fill } from './page.ts';

/** On the view of the air in the box. */
export async function typeBoxSizes(page: Page): Promise<void> {
  await page.getByLabel('Volume from').selectOption('volume');
  await fill(page, 'Air volume', String(1000 * trueBox.volumeM3));
  await fill(page, 'Radius of the hole', String(1000 * holeRadiusM));
  await fill(page, 'Top’s thickness at its rim', String(1000 * holeEdgeM));
  await fill(page, 'Depth at the tail', '116');
  await fill(page, 'Depth at the neck', '96');
}
