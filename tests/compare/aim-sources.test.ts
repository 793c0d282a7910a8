import { expect, test } from 'vitest';
import { replacementAims, type TopRatios } from '../../src/box/replacement.ts';
import { type AimInputs, aimRows } from '../../src/compare/aim-sources.ts';
import type { OldMode } from '../../src/compare/old-signature.ts';
import { estimate } from '../../src/quantity/estimate.ts';

const same: TopRatios = {
  along: estimate(1, 0),
  across: estimate(1, 0),
  shear: estimate(1, 0),
  arealMass: estimate(1, 0),
};
const reading = (readAt: OldMode['readAt'], mode: string, hz: number, part: OldMode['part'] = 'top'): OldMode => ({
  part,
  stage: readAt === 'closed' ? 'in the closed box' : readAt === 'braced' ? 'braced, free' : 'on the rims',
  mode,
  frequencyHz: estimate(hz, 0.5),
  sameAirHz: estimate(hz, 0.5),
  damage: [],
  readAt,
  isAirNoted: true,
});
const inputs = (readings: readonly OldMode[], more: Partial<AimInputs> = {}): AimInputs => ({
  readings,
  aims: replacementAims(readings, same),
  ratios: same,
  drawn: {},
  earlier: () => undefined,
  ...more,
});

test('the old guitar that was only tapped closed has aims at every stage from its drawing, its box and earlier instruments', () => {
  const rows = aimRows(
    inputs(
      [reading('closed', 'air', 100, 'air'), reading('closed', 'top', 190), reading('closed', 'back', 231, 'back')],
      {
        drawn: {
          braced: {
            old: [{ name: 'twist', frequencyHz: estimate(61, 2) }],
            fresh: [{ name: 'twist', frequencyHz: estimate(63, 2) }],
          },
          rims: { old: [{ name: 'monopole', frequencyHz: estimate(168, 5) }] },
        },
        box: {
          topAloneHz: estimate(172, 4),
          peaks: [
            { part: 'air', frequencyHz: estimate(101, 2) },
            { part: 'top', frequencyHz: estimate(192, 4) },
            { part: 'back', frequencyHz: estimate(232, 2) },
          ],
        },
        earlier: (stage) =>
          stage === 'braced'
            ? {
                kind: 'expected',
                frequencyHz: 150,
                low95Hz: 130,
                high95Hz: 170,
                ratio: 0.8,
                spreadPercent: 5,
                instruments: 3,
              }
            : undefined,
      },
    ),
  );
  expect(rows.map(({ stage, mode, agreeing }) => [stage, mode, agreeing])).toEqual([
    ['braced', 'monopole', ['earlier']],
    ['braced', 'twist', ['drawing']],
    ['rims', 'monopole', expect.arrayContaining(['drawing', 'box'])],
    ['box', 'air', ['box']],
    ['box', 'top', expect.arrayContaining(['reading', 'box'])],
    ['box', 'back', ['box']],
    ['strung', 'air', ['box']],
    ['strung', 'top', ['box']],
    ['strung', 'back', ['box']],
  ]);
  // The box was tapped without strings: what they do is open in the strung one.
  expect(rows.find(({ stage, mode }) => stage === 'strung' && mode === 'top')!.workHz!.sigma).toBeCloseTo(
    Math.hypot(4, 0.015 * 192),
    9,
  );
  expect(rows[1]!.newDrawnHz!.value).toBe(63);
  // Half of 170 - 130 is the 95 % half width.
  expect(rows[0]!.workHz!.sigma).toBeCloseTo(20 / 1.959964, 6);
  expect(rows.every(({ workHz }) => workHz !== undefined)).toBe(true);
});

test('a box that was tapped with its strings on says more of the strung one than of the closed one', () => {
  const box = { topAloneHz: estimate(172, 4), peaks: [{ part: 'air' as const, frequencyHz: estimate(101, 0.5) }] };
  const sigmas = (boxReadAt: 'box' | 'strung') =>
    aimRows(inputs([], { box, boxReadAt }))
      .filter(({ mode }) => mode === 'air')
      .map(({ stage, workHz }) => [stage, workHz!.sigma]);
  const wide = expect.closeTo(Math.hypot(0.5, 0.015 * 101), 9);
  expect(sigmas('box')).toEqual([
    ['box', 0.5],
    ['strung', wide],
  ]);
  expect(sigmas('strung')).toEqual([
    ['box', wide],
    ['strung', 0.5],
  ]);
});

test('the figure to work by is the mean of those that agree, by their weights, and no surer than they are', () => {
  const read = reading('on-rims', 'monopole', 170);
  const [row] = aimRows(
    inputs([read], { drawn: { rims: { old: [{ name: 'monopole', frequencyHz: estimate(176, 0) }] } } }),
  );
  const [one, other] = row!.sources.map(({ aimHz }) => aimHz);
  const [w, v] = [1 / one!.sigma ** 2, 1 / other!.sigma ** 2];
  expect(row!.agreeing).toHaveLength(2);
  expect(row!.workHz!.value).toBeCloseTo((w * 170 + v * 176) / (w + v), 9);
  expect(row!.workHz!.sigma).toBeGreaterThanOrEqual(Math.min(one!.sigma, other!.sigma));
});

test('of three, the two that agree make the figure; of two that do not, there is none', () => {
  const read = reading('on-rims', 'monopole', 170);
  const far = { rims: { old: [{ name: 'monopole', frequencyHz: estimate(240, 1) }] } };
  const [none] = aimRows(inputs([read], { drawn: far }));
  expect(none!.sources).toHaveLength(2);
  expect(none!.workHz).toBeUndefined();
  const box = { topAloneHz: estimate(174, 3), peaks: [] };
  const [two] = aimRows(inputs([read], { drawn: far, box }));
  expect(two!.agreeing.toSorted()).toEqual(['box', 'reading']);
  expect(two!.workHz!.value).toBeLessThan(175);
});

test('damage of the old top is told of what rests on its reading, not of back and air', () => {
  const unasked = { damage: 'unasked' as const };
  const rows = aimRows(
    inputs([
      { ...reading('closed', 'air', 100, 'air'), ...unasked },
      { ...reading('closed', 'top', 190), ...unasked },
      { ...reading('closed', 'back', 231, 'back'), ...unasked },
    ]),
  );
  expect(rows.map(({ damage }) => damage)).toEqual([[], 'unasked', []]);
});

test('a back that no box was solved for stays with the body; the air is no aim by itself', () => {
  const rows = aimRows(inputs([reading('closed', 'back', 231, 'back'), reading('closed', 'air', 100, 'air')]));
  expect(rows.map(({ workHz, staysWithBody }) => [workHz, staysWithBody])).toEqual([
    [undefined, true],
    [undefined, undefined],
  ]);
});
