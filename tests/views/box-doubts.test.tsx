// @vitest-environment happy-dom
// What the page says of rounds that were not taken as noted, and the names that wait to be said.
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { readBox } from '../../src/compare/box-reading.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { BoxDoubts } from '../../src/views/box/doubts.tsx';
import { RoundNames } from '../../src/views/box/round-names.tsx';
import { boxRecord } from '../compare/box-story.ts';
import { show } from './shown.tsx';

test('each doubt says what was probably done, with its figures', () => {
  const said = show(
    <BoxDoubts
      doubts={[
        { kind: 'hole-not-blocked', roundId: 'a', airHz: { value: 122, sigma: 0.2 } },
        { kind: 'holes-exchanged', roundId: 'b' },
        {
          kind: 'air-not-by-ruler',
          roundId: 'c',
          state: 'open',
          calledHz: { value: 198, sigma: 0.3 },
          ownHz: { value: 145, sigma: 2.5 },
        },
        { kind: 'back-not-held', roundId: 'd' },
        {
          kind: 'lump-misweighed',
          looks: 'too-heavy',
          massKg: { value: 0.843, sigma: 0.02 },
          areaM2: { value: 0.1281, sigma: 0.002 },
        },
      ]}
    />,
  );
  const sentences = [...said.querySelectorAll('.stop')].map(({ textContent }) => textContent!.replace(/\s/g, ' '));
  expect(sentences).toHaveLength(5);
  expect(sentences[0]).toContain('the air’s peak at 122.0 ± 0.4 Hz is still there');
  expect(sentences[1]).toContain('look exchanged');
  expect(sentences[2]).toMatch(/198\.0 ± 0\.6 Hz is called the air.*rings at 145 ± 5 Hz/);
  expect(sentences[3]).toContain('the back was free');
  expect(sentences[4]).toMatch(/would weigh 843 ± 40 g and push with 1281 ± 40 cm².*lighter than was typed/);
});

test('names that are only proposed are counted, and one press says them all', () => {
  let record: InstrumentRecord = boxRecord(['open', 'blocked']);
  let ids = 0;
  const page = () =>
    show(
      <RoundNames rounds={readBox(record, record.steps[0]!).rounds} step={record.steps[0]!} />,
      {},
      {
        newId: () => `n${ids++}`,
        shelf: {
          record: { value: record },
          edit: (_id: string, _name: string, change: (r: InstrumentRecord) => InstrumentRecord) => {
            record = change(record);
          },
        },
      },
    );
  const shown = page();
  expect(shown.textContent).toContain('5 names of peaks are only proposed');
  act(() => shown.querySelector('button')!.click());
  expect(record.box!.peaks!.map(({ roundId, part }) => [roundId, part])).toEqual([
    ['round-open', 'air'],
    ['round-open', 'top'],
    ['round-open', 'back'],
    ['round-blocked', 'top'],
    ['round-blocked', 'back'],
  ]);
  // The box as it is names the modes of the step.
  expect(record.pins.map(({ mode }) => mode)).toEqual(['air', 'top', 'back']);
  expect(page().textContent).toBe('');
});
