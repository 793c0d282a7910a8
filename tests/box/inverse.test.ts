import { describe, expect, test } from 'vitest';
import { solveBox } from '../../src/box/inverse.ts';
import { judgedLabels } from '../../src/box/label-check.ts';
import type { Box } from '../../src/box/pistons.ts';
import type { BoxRound } from '../../src/box/rounds.ts';
import { helmholtzHz, type Soundhole } from '../../src/box/soundhole.ts';
import type { SpectralFit } from '../../src/box/spectral-fit.ts';
import { at, PARAMETERS, type SpectralParameter } from '../../src/box/spectral-model.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { inverseCoverage, type Plan } from './inverse-coverage.ts';
import { measuredRound, seeded } from './synthetic.ts';
import { uncoupledFrequencies } from './uncoupled.ts';
import { THREE, TWO } from './workshop-box.ts';

const LUMP = estimate(0.02, 0.0001);
const VOLUME = estimate(0.016, 0.0003);
const setting = { volumeM3: VOLUME, air: THREE.air };
/** Hardly any noise: what is left is the method's own error. */
const STILL = 1e-4;

function roundsOn(box: Box, back: 'free' | 'held', sigmaHz: number): readonly BoxRound[] {
  const random = seeded(7);
  return [
    measuredRound(box, { hole: 'open', back }, sigmaHz, random),
    measuredRound(box, { hole: 'blocked', back }, sigmaHz, random),
    measuredRound(box, { hole: 'open', back, addedAtBridgeKg: LUMP }, sigmaHz, random),
  ];
}

const exchanged = (rounds: readonly BoxRound[]): readonly BoxRound[] =>
  rounds.map((round) => {
    const { air, top, back } = round.peaksHz;
    return {
      ...round,
      peaksHz: { ...(air ? { air } : {}), ...(back ? { top: back } : {}), ...(top ? { back: top } : {}) },
    };
  });

test('published: the air’s own resonance and the top on its cushion follow from open and dip frequencies', () => {
  // f- 98, f+ 205, f_h 125 Hz give f_p 189.747 Hz: sum rule of Woodhouse, Euphonics 4.2.2
  const found = solveBox(
    [{ hole: 'open', back: 'held', peaksHz: { air: estimate(98, STILL), top: estimate(205, STILL) } }],
    { ...setting, holeFromSizesHz: estimate(125, STILL) },
  );
  expect(found).toMatchObject({ kind: 'solved', back: 'held' });
  if (found.kind === 'solved') expect(found.top.uncoupledHz.value).toBeCloseTo(189.74720024, 3);
});

test('a two-piston box gives back what it was made of', () => {
  const found = solveBox(roundsOn(TWO, 'held', STILL), setting);
  if (found.kind !== 'solved') throw new Error(found.kind);
  const { topHz, airHz } = uncoupledFrequencies(TWO);
  expect(found.top.uncoupledHz.value).toBeCloseTo(topHz, 2);
  expect(found.airHz.value).toBeCloseTo(airHz!, 2);
  // 1e-4 Hz on a shift of 15 Hz: mass to 1e-4
  expect(found.top.effective!.massKg.value / TWO.top.massKg).toBeCloseTo(1, 3);
  expect(found.top.effective!.stiffnessNPerM.value / TWO.top.stiffnessNPerM).toBeCloseTo(1, 3);
  expect(found.top.effective!.areaM2.value / TWO.top.areaM2).toBeCloseTo(1, 3);
});

test('a three-piston box gives back what it was made of, the back by its area', () => {
  const found = solveBox(roundsOn(THREE, 'free', STILL), { ...setting, backAreaM2: estimate(0.035, 0.002) });
  if (found.kind !== 'solved' || found.back === 'held') throw new Error(found.kind);
  const { topHz, backHz, airHz } = uncoupledFrequencies(THREE);
  expect(found.top.uncoupledHz.value).toBeCloseTo(topHz, 2);
  expect(found.back.uncoupledHz.value).toBeCloseTo(backHz!, 2);
  expect(found.airHz.value).toBeCloseTo(airHz!, 2);
  expect(found.top.effective!.massKg.value / 0.08).toBeCloseTo(1, 3);
  expect(found.back.effective!.massKg.value / 0.15).toBeCloseTo(1, 2);
  // the area's 5.7 % counts twice in the mass
  expect(found.back.effective!.massKg.sigma / 0.15).toBeGreaterThan(0.11);
  expect(found.labels).toBe('confirmed');
});

test('a mass on the back gives the back’s own mass', () => {
  const rounds = roundsOn(THREE, 'free', STILL);
  const lump = measuredRound(THREE, { hole: 'blocked', back: 'free', addedAtBackKg: LUMP }, STILL, seeded(1));
  const found = solveBox([...rounds, lump], setting);
  if (found.kind !== 'solved' || found.back === 'held') throw new Error(found.kind);
  expect(found.back.effective!.massKg.value / 0.15).toBeCloseTo(1, 2);
});

test('the back held by hand takes the place of the blocked hole', () => {
  const random = seeded(3);
  const rounds = [
    measuredRound(THREE, { hole: 'open', back: 'free' }, STILL, random),
    measuredRound(THREE, { hole: 'open', back: 'held' }, STILL, random),
    measuredRound(THREE, { hole: 'open', back: 'free', addedAtBridgeKg: LUMP }, STILL, random),
  ];
  const found = solveBox(rounds, setting);
  if (found.kind !== 'solved') throw new Error(found.kind);
  expect(found.top.effective!.massKg.value / 0.08).toBeCloseTo(1, 2);
});

test('a top peak that belongs to the back is found by the mass at the bridge', () => {
  const found = solveBox(exchanged(roundsOn(THREE, 'free', 0.3)), setting);
  if (found.kind !== 'solved') throw new Error(found.kind);
  expect(found.labels).toBe('swapped');
  // what is called top in the answer is the plate that carried the mass
  expect(Math.abs(found.top.uncoupledHz.value - uncoupledFrequencies(THREE).topHz)).toBeLessThan(2);
});

test('without a mass the plates keep their labels, their masses stay unknown', () => {
  const found = solveBox(roundsOn(THREE, 'free', STILL).slice(0, 2), setting);
  if (found.kind !== 'solved' || found.back === 'held') throw new Error(found.kind);
  expect(found.labels).toBe('undecided');
  expect(found.top.effective).toBeUndefined();
  expect(found.top.uncoupledHz.value).toBeCloseTo(uncoupledFrequencies(THREE).topHz, 2);
  expect(found.back.uncoupledHz.value).toBeCloseTo(uncoupledFrequencies(THREE).backHz!, 2);
});

test('the sum rule passes right labels and doubts a box whose back peak was taken for another', () => {
  const holeFromSizesHz = estimate(helmholtzHz(THREE.air, 0.016, THREE.hole as Soundhole), 2);
  const rounds = roundsOn(THREE, 'free', 0.3);
  const right = solveBox(rounds, { ...setting, holeFromSizesHz });
  if (right.kind !== 'solved') throw new Error(right.kind);
  expect(right.sumRule!.labelsDoubtful).toBe(false);
  expect(Math.abs(right.sumRule!.impliedHoleHz.value - holeFromSizesHz.value)).toBeLessThan(3);
  const [open, blocked] = rounds as [BoxRound, BoxRound];
  const stray = { ...open, peaksHz: { ...open.peaksHz, back: estimate(240, 0.3) } }; // a dipole read as the back
  const wrong = solveBox([stray, blocked], { ...setting, holeFromSizesHz });
  if (wrong.kind !== 'solved') throw new Error(wrong.kind);
  expect(wrong.sumRule!.labelsDoubtful).toBe(true);
});

test('readings that the three pistons cannot carry widen every uncertainty', () => {
  const rounds = roundsOn(TWO, 'held', 0.3);
  const odd = rounds.map((round, i) =>
    i === 2 ? { ...round, peaksHz: { ...round.peaksHz, air: estimate(round.peaksHz.air!.value - 3, 0.3) } } : round,
  );
  const [honest, widened] = [solveBox(rounds, setting), solveBox(odd, setting)];
  if (honest.kind !== 'solved' || widened.kind !== 'solved') throw new Error(widened.kind);
  expect(widened.airHz.sigma).toBeGreaterThan(2 * honest.airHz.sigma);
  expect(widened.misfit.chiSquared).toBeGreaterThan(9);
});

test('what cannot be told is said, with the reason', () => {
  const open = roundsOn(TWO, 'held', 0.3)[0]!;
  expect(solveBox([open], setting)).toEqual({ kind: 'not-measurable', because: 'too-few-peaks', have: 2, need: 3 });
  expect(solveBox([open], { ...setting, volumeM3: estimate(-0.016, 0.001) })).toEqual({
    kind: 'not-measurable',
    because: 'not-positive',
    what: 'volume',
    value: -0.016,
  });
  const idle = { ...open, addedAtBridgeKg: LUMP };
  expect(solveBox([...roundsOn(TWO, 'held', 0.3).slice(0, 2), idle], setting)).toEqual({
    kind: 'not-measurable',
    because: 'mass-moved-nothing',
    round: 2,
  });
});

// 300 boxes: a true 95 % lies inside 92 to 98 % in 98 of 100 runs; the bench counts 4000 against 93 to 97 %
test.each<Plan>(['two-piston', 'three-piston-back-lump'])(
  'the stated intervals of a %s hold the truth as often as they say',
  (plan) => {
    const { inside, solved } = inverseCoverage(plan, 300, 0.3, 11);
    expect(solved).toBeGreaterThan(285);
    for (const [name, { share }] of Object.entries(inside)) {
      expect(share, name).toBeGreaterThan(0.92);
      expect(share, name).toBeLessThan(0.985);
    }
  },
);

describe('what is counted in a solution', () => {
  const solved = (rounds: readonly BoxRound[], more: Partial<Parameters<typeof solveBox>[1]> = {}) => {
    const found = solveBox(rounds, { ...setting, ...more });
    if (found.kind !== 'solved') throw new Error(JSON.stringify(found));
    return found;
  };

  test('peaks less constants are its degrees of freedom, a doubtful mass is counted on either side', () => {
    // Two parts: 2 + 1 + 2 peaks; top, its grip, the air and the mass. Three parts: 3 + 2 + 3 peaks, two constants more.
    expect(solved(roundsOn(TWO, 'held', 0.3)).misfit.degreesOfFreedom).toBe(5 - 4);
    expect(solved(roundsOn(THREE, 'free', 0.3)).misfit.degreesOfFreedom).toBe(8 - 6);
  });

  test('a mass that is known exactly is as good as one that is nearly so', () => {
    const weighed = (sigma: number) =>
      solved(
        roundsOn(TWO, 'held', STILL).map(({ addedAtBridgeKg, ...round }) => ({
          ...round,
          ...(addedAtBridgeKg && { addedAtBridgeKg: estimate(addedAtBridgeKg.value, sigma) }),
        })),
      );
    const [exact, nearly] = [weighed(0), weighed(1e-9)];
    expect(exact.misfit.degreesOfFreedom).toBe(1);
    expect(exact.top.effective!.massKg.value / TWO.top.massKg).toBeCloseTo(1, 3);
    expect(exact.top.effective!.massKg.sigma / nearly.top.effective!.massKg.sigma).toBeCloseTo(1, 2);
  });

  test('sizes of the hole say nothing where the blocked hole was heard', () => {
    const rounds = roundsOn(TWO, 'held', 0.3);
    const [plain, sized] = [solved(rounds), solved(rounds, { holeFromSizesHz: estimate(200, 0.1) })];
    expect(sized.airHz).toEqual(plain.airHz);
    expect(sized.misfit).toEqual(plain.misfit);
  });

  test('where the back is held there is no other plate to mistake the top for', () => {
    expect(solved(roundsOn(TWO, 'held', STILL)).labels).toBe('undecided');
  });

  test('a plate by its area is as doubtful as twice the area and once the volume', () => {
    const { back } = solved(roundsOn(THREE, 'free', STILL), { backAreaM2: estimate(0.035, 0.002) });
    if (back === 'held') throw new Error(back);
    const share = Math.hypot((2 * 0.002) / 0.035, 0.0003 / 0.016);
    const { massKg, stiffnessNPerM } = back.effective!;
    expect(massKg.sigma / massKg.value / share).toBeCloseTo(1, 2);
    expect(stiffnessNPerM.sigma / stiffnessNPerM.value / share).toBeCloseTo(1, 2);
    // K = m (2 pi f)^2 of the plate without the cushion.
    expect(stiffnessNPerM.value / (0.15 * (2 * Math.PI * 220) ** 2)).toBeCloseTo(1, 2);
  });

  test('a plug that closed nothing is told of the first round as well', () => {
    const open = roundsOn(TWO, 'held', STILL)[0]!;
    const plugged: BoxRound = { ...open, hole: 'blocked', peaksHz: { top: open.peaksHz.top! } };
    expect(solveBox([plugged, open], setting)).toEqual({
      kind: 'not-measurable',
      because: 'blocking-moved-nothing',
      round: 0,
      airStays: false,
    });
  });

  test('where no round has both plates, of two fits the better one stands', () => {
    const rounds: BoxRound[] = [
      { hole: 'open', back: 'free', peaksHz: { air: estimate(98, 0.3), top: estimate(181, 0.3) } },
      { hole: 'blocked', back: 'free', peaksHz: { back: estimate(225, 0.3) } },
    ];
    const fitOf = (chiSquared: number): SpectralFit => ({
      log: new Float64Array(9),
      free: [],
      covariance: [],
      chiSquared,
      residuals: [],
    });
    const [worse, better] = [fitOf(7), fitOf(2)];
    for (const fits of [
      [worse, better],
      [better, worse],
    ])
      expect(judgedLabels(fits, rounds, true).fit).toBe(better);
  });

  test('what the rounds leave open is named', () => {
    const [open] = roundsOn(TWO, 'held', STILL);
    // Two peaks and a hole known to four fifths of itself, for three constants; known to a hundredth it is enough.
    const found = solveBox([open!], { ...setting, holeFromSizesHz: estimate(125, 100) });
    expect(found).toEqual({ kind: 'not-measurable', because: 'rounds-do-not-tell', what: expect.any(String) });
    expect(['topVacuoHz', 'topGripHz', 'airHz']).toContain((found as { what: string }).what);
    solved([open!], { holeFromSizesHz: estimate(125, 1) });
  });

  test('beyond what chance makes of it, every doubt grows with the root of chi squared over its degrees of freedom', () => {
    const odd = (sigma: number) =>
      roundsOn(THREE, 'free', STILL).map(({ peaksHz, addedAtBridgeKg, ...round }, i) => ({
        ...round,
        ...(addedAtBridgeKg && { addedAtBridgeKg: estimate(addedAtBridgeKg.value, 0) }),
        peaksHz: Object.fromEntries(
          Object.entries(peaksHz).map(([part, { value }], k) => [
            part,
            estimate(value + (i === 2 ? [2, -2, 1][k]! : 0), sigma),
          ]),
        ),
      }));
    // The same peaks with one common sigma make the same fit; twenty times as doubtful they are less of a surprise.
    const [sharp, blunt] = [solved(odd(0.05)), solved(odd(1))];
    expect(sharp.misfit.degreesOfFreedom).toBe(2);
    expect(sharp.misfit.chiSquared).toBeGreaterThan(20);
    expect(blunt.misfit.chiSquared).toBeLessThan(9);
    expect(sharp.airHz.sigma / (blunt.airHz.sigma / 20)).toBeCloseTo(Math.sqrt(sharp.misfit.chiSquared / 2), 2);
  });

  test('without a mass a fit of the plates the other way round is turned to the labels as given', () => {
    const values = {
      topVacuoHz: 220,
      topGripHz: 60,
      backVacuoHz: 170,
      backGripHz: 75,
      airHz: 120,
      topMassKg: 0.15,
      backMassKg: 0.08,
    };
    const log = new Float64Array(PARAMETERS.length);
    for (const [name, value] of Object.entries(values)) log[at(name as SpectralParameter)] = Math.log(value);
    const free = [at('topVacuoHz'), at('topGripHz'), at('airHz'), at('backVacuoHz'), at('backGripHz')];
    const covariance = free.map((_, i) => free.map((_, j) => 1 / (1 + i + 10 * j) + 1 / (1 + j + 10 * i)));
    const turned: SpectralFit = { log, free, covariance, chiSquared: 1, residuals: [] };
    // The lower of the two plates’ peaks is labelled top, and in the fit it is the back’s.
    const rounds: BoxRound[] = [
      {
        hole: 'open',
        back: 'free',
        peaksHz: { air: estimate(98, 0.3), top: estimate(181, 0.3), back: estimate(235, 0.3) },
      },
    ];
    const { fit, labels } = judgedLabels([turned, { ...turned, chiSquared: 2 }], rounds, false);
    expect(labels).toBe('undecided');
    const told = (name: SpectralParameter) => Math.exp(fit.log[at(name)]!);
    expect(told('topVacuoHz')).toBeCloseTo(170, 9);
    expect(told('backVacuoHz')).toBeCloseTo(220, 9);
    expect(told('topGripHz')).toBeCloseTo(75, 9);
    expect(told('backGripHz')).toBeCloseTo(60, 9);
    expect(told('airHz')).toBeCloseTo(120, 9);
    const other = [3, 4, 2, 0, 1];
    expect(fit.covariance).toEqual(other.map((i) => other.map((j) => covariance[i]![j]!)));
    // The fit that was handed in is left as it was.
    expect(Math.exp(log[at('topVacuoHz')]!)).toBeCloseTo(220, 9);
  });
});
