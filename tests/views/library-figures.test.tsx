// @vitest-environment happy-dom
// Instruments side by side: every figure of the library against the records by hand.
import { signal } from '@preact/signals';
import { describe, expect, test } from 'vitest';
import { cardOf } from '../../src/compare/library.ts';
import type { InstrumentRecord, Target } from '../../src/record/record.ts';
import { LibraryView } from '../../src/views/record/library/library-view.tsx';
import { story } from '../compare/story.ts';
import { cell, expectFigure, expectPlain, figureIn, partNamed, show } from './shown.tsx';

// Monopole and cross dipole of four instruments; the last one is of another model. One more is on the bench.
const read = [
  [171.3, 243.9],
  [178.8, 251.2],
  [174.1, 240.7],
  [181.6, 262.4],
] as const;
const sigmas = [0.13, 0.19, 0.23, 0.29];
const onBench = { hz: [176.4, 247.7], sigma: 0.17 };

const named = (id: string, hz: readonly number[], sigmaHz: number, model: string): InstrumentRecord => {
  const told = story([{ modesHz: hz, sigmaHz }]);
  const second = { id: 'p2', stepId: 's0', mode: 'cross dipole', frequencyHz: hz[1]! };
  return { ...told, id, name: id, model, pins: [...told.pins, second] };
};
const earlier = read.map((hz, i) => named(`No${i + 1}`, hz, sigmas[i]!, i < 3 ? 'Parlour' : 'Jumbo'));
const bench = named('Newone', onBench.hz, onBench.sigma, 'Parlour');

let aimed: readonly Pick<Target, 'mode' | 'frequencyHz' | 'toleranceHz'>[] = [];
const page = () =>
  show(
    <LibraryView />,
    {},
    {
      library: {
        load: async () => undefined,
        cards: signal(earlier.map(cardOf)),
        waiting: signal(0),
        aim: (_stage: string, targets: typeof aimed) => {
          aimed = targets;
        },
      },
      shelf: { record: signal(bench), summaries: signal([]) },
    },
  );
const modes = ['monopole', 'cross dipole'];

/** Mean and standard deviation of one by hand. */
function over(values: readonly number[]): { readonly mean: number; readonly spread: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + value ** 2, 0) - values.length * mean ** 2;
  return { mean, spread: Math.sqrt(squares / (values.length - 1)) };
}
/** Student's t, 97.5 %, by degrees of freedom, from any table. */
const students: Readonly<Record<number, number>> = { 2: 4.30265, 4: 2.77645 };
/** What 1.96 of are half the 95 % interval of a mean. */
const sigmaOfMean = (spread: number, n: number) => (spread * students[n - 1]!) / Math.sqrt(n) / 1.959964;

describe('the library', () => {
  test('the list: the modes of each instrument', () => {
    const rows = [...page().querySelectorAll('.instruments > li')];
    const all = [
      ...earlier.map(({ name }, i) => [name, read[i]!, sigmas[i]!] as const),
      ['Newone', onBench.hz, 0.17] as const,
    ];
    expect(rows).toHaveLength(all.length);
    for (const [name, hz, sigma] of all) {
      const row = rows.find((known) => known.querySelector('strong')!.textContent === name)!;
      // Behind the name: what it is, and last its modes.
      const texts = row.querySelector('strong')!.parentElement!.lastElementChild!.textContent!.split(', ');
      for (const [m, mode] of modes.entries()) {
        expect(texts[m]).toContain(`${mode} `);
        expectFigure(texts[m]!.replace(mode, ''), hz[m]!, sigma, 'Hz');
      }
    }
  });

  test('side by side: each reading, the mean of all and the spread of one', () => {
    const shown = page();
    const table = partNamed(shown, 'Side by side').querySelector<HTMLElement>('table')!;
    for (const [m, mode] of modes.entries()) {
      for (const [i, { name }] of earlier.entries())
        expectFigure(cell(table, name, mode), read[i]![m]!, sigmas[i]!, 'Hz');
      expectFigure(cell(table, 'Newone', mode), onBench.hz[m]!, onBench.sigma, 'Hz');
      const { mean, spread } = over([...read.map((hz) => hz[m]!), onBench.hz[m]!]);
      expectFigure(cell(table, 'Mean', mode), mean, sigmaOfMean(spread, 5), 'Hz');
      expectPlain(cell(table, 'Spread of one', mode), spread, 'Hz');
    }
  });

  test('the drawing: where each mode stands, how far its interval and the spread of all reach', () => {
    const drawing = partNamed(page(), 'Named modes of the chosen instruments, one line each').querySelector('svg')!;
    // Two ticks give the scale.
    const ticks = [...drawing.querySelectorAll('.trace-tick.middle')].map((tick) => ({
      hz: Number(tick.textContent),
      x: Number(tick.getAttribute('x')),
    }));
    const perHz = (ticks[1]!.x - ticks[0]!.x) / (ticks[1]!.hz - ticks[0]!.hz);
    const at = (hz: number) => ticks[0]!.x + (hz - ticks[0]!.hz) * perHz;
    const dots = [...drawing.querySelectorAll('circle')].map((dot) => ({
      title: dot.querySelector('title')!.textContent!,
      x: Number(dot.getAttribute('cx')),
      bar: dot.previousElementSibling!.getAttribute('d')!,
    }));
    for (const [i, { name }] of earlier.entries())
      for (const [m, mode] of modes.entries()) {
        const dot = dots.find(({ title }) => title.startsWith(`${name}: ${mode} `))!;
        expectFigure(dot.title.split(mode)[1]!, read[i]![m]!, sigmas[i]!, 'Hz');
        expect(dot.x).toBeCloseTo(at(read[i]![m]!), 6);
        const [from, to] = [...dot.bar.matchAll(/[MH]([\d.]+)/g)].map(([, x]) => Number(x));
        expect(to! - from!).toBeCloseTo(2 * 1.959964 * sigmas[i]! * perHz, 4);
      }
    const bands = [...drawing.querySelectorAll('.trace-band')];
    for (const m of modes.keys()) {
      const { mean, spread } = over([...read.map((hz) => hz[m]!), onBench.hz[m]!]);
      expect(Number(bands[m]!.getAttribute('x'))).toBeCloseTo(at(mean - spread), 6);
      expect(Number(bands[m]!.getAttribute('width'))).toBeCloseTo(2 * spread * perHz, 6);
    }
  });

  test('the same again: mean, spread and target of the model, without the one on the bench', () => {
    const shown = page();
    const part = partNamed(shown, 'The same again');
    for (const [m, mode] of modes.entries()) {
      const { mean, spread } = over(read.slice(0, 3).map((hz) => hz[m]!));
      expectPlain(cell(part, mode, 'Instruments'), 3, '');
      expectFigure(cell(part, mode, 'Mean'), mean, sigmaOfMean(spread, 3), 'Hz');
      expectPlain(cell(part, mode, 'Spread of one, ±'), spread, 'Hz');
      const target = figureIn(cell(part, mode, 'Target'));
      expect(target.unit).toBe('Hz');
      expect(Math.abs(target.value - mean)).toBeLessThanOrEqual(0.05);
      expect(Math.abs(target.halfWidth! - spread)).toBeLessThanOrEqual(0.05);
    }
    [...shown.querySelectorAll('button')].find(({ textContent }) => textContent!.startsWith('Make these'))!.click();
    for (const [m, mode] of modes.entries()) {
      const { mean, spread } = over(read.slice(0, 3).map((hz) => hz[m]!));
      const target = aimed.find((known) => known.mode === mode)!;
      expect(target.frequencyHz).toBeCloseTo(mean, 9);
      expect(target.toleranceHz).toBeCloseTo(spread, 9);
    }
  });

  test('most like the one on the bench: how far apart in cents', () => {
    const part = partNamed(page(), 'Most like the one on the bench');
    for (const [i, { name }] of earlier.entries()) {
      // Intervals in cents, 1200 log2; their root mean square d, and d(d) = sum of c dc / (2 d).
      const cents = modes.map((_, m) => (1200 * Math.log(read[i]![m]! / onBench.hz[m]!)) / Math.LN2);
      const distance = Math.sqrt((cents[0]! ** 2 + cents[1]! ** 2) / 2);
      const doubts = modes.map(
        (_, m) =>
          ((1200 / Math.LN2) * Math.hypot(sigmas[i]! / read[i]![m]!, onBench.sigma / onBench.hz[m]!) * cents[m]!) /
          2 /
          distance,
      );
      expectFigure(cell(part, name, 'Apart'), distance, Math.hypot(...doubts), 'cents');
      expect(cell(part, name, 'By the modes')).toBe('monopole, cross dipole');
    }
  });
});
