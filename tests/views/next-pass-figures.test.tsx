// @vitest-environment happy-dom
// Every figure of the next pass by another line of arithmetic.
import { signal } from '@preact/signals';
import { describe, expect, test } from 'vitest';
import { TargetBand } from '../../src/views/steps/band.tsx';
import { LastPass } from '../../src/views/steps/last-pass.tsx';
import { NextPassCard } from '../../src/views/steps/next-pass.tsx';
import { inMould, story } from '../compare/story.ts';
import { expectFigure, figuresOf, show } from './shown.tsx';

const target = {
  id: 't',
  mode: 'monopole',
  stage: 'braced',
  origin: 'typed',
  frequencyHz: 182,
  toleranceHz: 2,
} as const;

describe('a target as a line', () => {
  const at = (page: HTMLElement, kind: string) => Number(page.querySelector(`.${kind} circle`)!.getAttribute('cx'));

  test('the figure now, what is wanted and what is to go; dot, landing and band stand in proportion', () => {
    const page = show(
      <TargetBand target={target} now={{ value: 186.4, sigma: 0.2 }} lands={{ value: 183, sigma: 0.5 }} />,
    );
    expectFigure(page.querySelector('.band-now')!.textContent!, 186.4, 0.2, 'Hz');
    expect(page.querySelector('.band-figures')!.textContent).toContain('wanted 182.0 ± 2.0');
    expect(page.querySelector('.band-left')!.textContent).toBe('4.4 Hz to go');
    const band = page.querySelector('.band-target')!;
    const [left, width] = ['x', 'width'].map((name) => Number(band.getAttribute(name)));
    // 4 Hz of band; the mode stands 6.4 Hz above its lower edge, and lands 3 Hz above it.
    expect((at(page, 'now') - left!) / width!).toBeCloseTo(6.4 / 4, 6);
    expect((at(page, 'lands') - left!) / width!).toBeCloseTo(3 / 4, 6);
    const [, from, to] = /^M([\d.]+) 20H([\d.]+)$/.exec(page.querySelector('.lands path')!.getAttribute('d')!)!;
    expect((Number(to) - Number(from)) / width!).toBeCloseTo((2 * 1.959964 * 0.5) / 4, 4);
  });

  test.each([
    [183.9, 'within the target'],
    [184.1, '2.1 Hz to go'],
    [179.9, 'below the target'],
  ])('%d Hz is said to be: %s', (value, said) => {
    const page = show(<TargetBand target={target} now={{ value, sigma: 0.1 }} />);
    expect(page.querySelector('.band-left')!.textContent).toBe(said);
  });
});

describe('what the last pass did', () => {
  const record = story([
    { modesHz: [194], humidityPercent: 45 },
    { modesHz: [189.2], massOffG: 0.8, humidityPercent: 45, sigmaHz: 0.2 },
  ]);
  const past = (agrees: boolean, forecast: number) => ({
    kind: 'agreement',
    names: ['monopole'],
    past: [
      {
        stepId: 's1',
        mode: 0,
        forecast: { value: forecast, sigma: 0.5 },
        measured: { value: -4.8, sigma: Math.hypot(0.1, 0.2) },
        agrees,
      },
    ],
  });
  const page = (told: object | undefined, of = record) =>
    show(
      <LastPass record={of} conditions={{ stage: 'braced', support: inMould }} wanted={['monopole']} />,
      {},
      {
        forecasts: {
          agreement: {
            current: signal(told === undefined ? { kind: 'none' } : { kind: 'ready', key: '', answer: told }),
          },
        },
        hearBack: {},
        newId: () => 'new',
      },
    );

  test('how far the mode moved, beside what was foreseen', () => {
    const [moved, foreseen] = figuresOf(page(past(true, -4.4)), /^monopole moved (.+?), foreseen (.+?): as foreseen$/);
    expectFigure(moved!, -4.8, Math.hypot(0.1, 0.2), 'Hz');
    expectFigure(foreseen!, -4.4, 0.5, 'Hz');
    expect(page(past(false, -2)).textContent).toContain('more than foreseen');
    expect(page(past(false, -9)).textContent).toContain('less than foreseen');
    expect(page(undefined).textContent).not.toContain('foreseen');
  });

  test('what was taken off, or that nothing is entered and what was done is asked', () => {
    expect(page(undefined).textContent!.replaceAll('\u00a0', ' ')).toContain('cut 1: 0.8 g off.');
    const forgotten = { ...record, steps: record.steps.map((step) => ({ ...step, cuts: [] })) };
    expect(page(undefined, forgotten).textContent).toContain('nothing entered as cut');
    expect(page(undefined, forgotten).textContent).toContain('What was done?');
    expect(page(undefined).textContent).not.toContain('What was done?');
  });
});

describe('a cut that was not tapped since', () => {
  const tapped = story([{ modesHz: [194] }, { modesHz: [189.2], massOffG: 0.8 }]);
  const [first, second] = tapped.steps;
  const targets = [target];
  const page = (record: typeof tapped) =>
    show(
      <NextPassCard record={record} conditions={{ stage: 'braced', support: inMould }} />,
      {},
      {
        bench: { state: signal({ kind: 'idle' }), spot: signal('bridge-centre') },
        forecasts: { agreement: { current: signal({ kind: 'none' }) }, advice: { current: signal({ kind: 'none' }) } },
        shelf: { record: signal(record) },
        hearBack: {},
        newId: () => 'new',
      },
    ).textContent!.replaceAll('\u00a0', ' ');

  test('is to be tapped before another pass, also where a round of it was begun and broken off', () => {
    const [round] = second!.rounds;
    const { fit: _fit, ...open } = round!;
    for (const rounds of [[], [open]]) {
      const said = page({ ...tapped, targets, steps: [first!, { ...second!, rounds }] });
      expect(said).toContain('Cut, and not tapped since');
      expect(said).toContain('194');
      expect(said).not.toContain('Take 0');
      expect(said).not.toContain('Stop here');
    }
    expect(page({ ...tapped, targets })).not.toContain('not tapped since');
    const uncut = { ...second!, cuts: [], rounds: [] };
    expect(page({ ...tapped, targets, steps: [first!, uncut] })).not.toContain('not tapped since');
  });
});
