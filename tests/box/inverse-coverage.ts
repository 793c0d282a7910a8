// How often the truth lies inside the stated 95 % interval, over random boxes measured with noise.
import { type BoxFound, solveBox } from '../../src/box/inverse.ts';
import type { Box } from '../../src/box/pistons.ts';
import type { BoxRound } from '../../src/box/rounds.ts';
import { type Estimate, estimate, HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { type FullBox, measuredRound, normal, type Random, randomBox, seeded } from './synthetic.ts';
import { uncoupledFrequencies } from './uncoupled.ts';

export interface Coverage {
  readonly trials: number;
  readonly solved: number;
  /** boxes not solved, by reason */
  readonly refused: Readonly<Record<string, number>>;
  readonly labels: Readonly<Record<string, number>>;
  /** per quantity: share of truths inside the 95 % interval, and the median relative sigma */
  readonly inside: Readonly<Record<string, { readonly share: number; readonly medianRelativeSigma: number }>>;
}

/** Relative uncertainty of the air volume by ruler. */
const VOLUME_SIGMA = 0.02;

export type Plan = 'two-piston' | 'three-piston' | 'three-piston-back-lump';

function measure(box: Box, plan: Plan, sigmaHz: number, random: Random): readonly BoxRound[] {
  const back = plan === 'two-piston' ? 'held' : 'free';
  // the scale reads the true lump to 0.1 g
  const reading = (truth: Estimate) => estimate(truth.value + 1e-4 * normal(random), 1e-4);
  const weighed = (round: BoxRound): BoxRound => ({
    ...round,
    ...(round.addedAtBridgeKg ? { addedAtBridgeKg: reading(round.addedAtBridgeKg) } : {}),
    ...(round.addedAtBackKg ? { addedAtBackKg: reading(round.addedAtBackKg) } : {}),
  });
  const lumpKg = { bridge: 0.02, back: 0.04 };
  const rounds = [
    measuredRound(box, { hole: 'open', back }, sigmaHz, random),
    measuredRound(box, { hole: 'blocked', back }, sigmaHz, random),
    weighed(measuredRound(box, { hole: 'open', back, addedAtBridgeKg: estimate(lumpKg.bridge, 0) }, sigmaHz, random)),
  ];
  if (plan === 'three-piston-back-lump')
    rounds.push(
      weighed(measuredRound(box, { hole: 'blocked', back, addedAtBackKg: estimate(lumpKg.back, 0) }, sigmaHz, random)),
    );
  return rounds;
}

function truths(box: FullBox, plan: Plan): Record<string, number> {
  const seen = plan === 'two-piston' ? { ...box, back: 'held' as const } : box;
  const { topHz, backHz, airHz } = uncoupledFrequencies(seen);
  return {
    topUncoupledHz: topHz,
    airHz: airHz!,
    topMassKg: box.top.massKg,
    topStiffness: box.top.stiffnessNPerM,
    topAreaM2: box.top.areaM2,
    ...(plan === 'two-piston' ? {} : { backUncoupledHz: backHz! }),
    ...(plan === 'three-piston-back-lump'
      ? { backMassKg: box.back.massKg, backStiffness: box.back.stiffnessNPerM, backAreaM2: box.back.areaM2 }
      : {}),
  };
}

function estimates(found: BoxFound & { kind: 'solved' }): Record<string, Estimate | undefined> {
  const back = found.back === 'held' ? undefined : found.back;
  return {
    topUncoupledHz: found.top.uncoupledHz,
    airHz: found.airHz,
    topMassKg: found.top.effective?.massKg,
    topStiffness: found.top.effective?.stiffnessNPerM,
    topAreaM2: found.top.effective?.areaM2,
    backUncoupledHz: back?.uncoupledHz,
    backMassKg: back?.effective?.massKg,
    backStiffness: back?.effective?.stiffnessNPerM,
    backAreaM2: back?.effective?.areaM2,
  };
}

export function inverseCoverage(plan: Plan, trials: number, sigmaHz: number, seed: number): Coverage {
  const random = seeded(seed);
  const hits: Record<string, number> = {};
  const relative: Record<string, number[]> = {};
  const refused: Record<string, number> = {};
  const labels: Record<string, number> = {};
  let solved = 0;
  const count = (record: Record<string, number>, key: string) => {
    record[key] = (record[key] ?? 0) + 1;
  };
  for (let i = 0; i < trials; i++) {
    const full = randomBox(random);
    const box: Box = plan === 'two-piston' ? { ...full, back: 'held' } : full;
    const rounds = measure(box, plan, sigmaHz, random);
    const volumeM3 = estimate(box.volumeM3 * (1 + VOLUME_SIGMA * normal(random)), VOLUME_SIGMA * box.volumeM3);
    const found = solveBox(rounds, { volumeM3, air: box.air });
    if (found.kind !== 'solved') {
      count(refused, found.kind === 'contradicted' ? found.contradictions[0]!.because : found.because);
      continue;
    }
    solved++;
    count(labels, found.labels);
    const given = estimates(found);
    for (const [name, truth] of Object.entries(truths(full, plan))) {
      const { value, sigma } = given[name]!;
      if (Math.abs(value - truth) <= HALF_WIDTH_95 * sigma) count(hits, name);
      else hits[name] ??= 0;
      relative[name] = [...(relative[name] ?? []), sigma / value];
    }
  }
  const inside = Object.fromEntries(
    Object.entries(hits).map(([name, n]) => {
      const sorted = relative[name]!.sort((a, b) => a - b);
      return [name, { share: n / solved, medianRelativeSigma: sorted[Math.floor(sorted.length / 2)]! }];
    }),
  );
  return { trials, solved, refused, labels, inside };
}
