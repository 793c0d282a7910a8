// Boxes drawn at random from what is built (published-values: top 60 to 120 g, 0.03 to 0.06 m²; volumes 12 to 19 l; common
// practice for the back), measured with noise of known size.
import { type Box, boxModes, type Part, type Piston } from '../../src/box/pistons.ts';
import type { BoxRound } from '../../src/box/rounds.ts';
import { type Soundhole, soundhole } from '../../src/box/soundhole.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { AIR, piston } from './workshop-box.ts';

export type Random = () => number;

/** Mulberry32, 32-bit state. Source: T. Ettinger 2017, public domain. */
export function seeded(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A standard normal number (Box & Muller 1958). */
export function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

const between = (random: Random, low: number, high: number) => low + (high - low) * random();

/** A box of which everything can move. */
export interface FullBox extends Box {
  readonly hole: Soundhole;
  readonly back: Piston;
}

/** A box whose back and top stand at least 8 % apart in vacuo, either way round one time in four. */
export function randomBox(random: Random): FullBox {
  const topHz = between(random, 150, 200);
  const backHz = topHz * (random() < 0.25 ? between(random, 0.8, 0.92) : between(random, 1.08, 1.4));
  return {
    air: AIR,
    volumeM3: between(random, 0.012, 0.019),
    hole: soundhole(between(random, 0.044, 0.052), 0.0035, 'flanged', between(random, 15, 30)),
    top: piston(between(random, 0.06, 0.12), topHz, between(random, 0.03, 0.06), between(random, 15, 40)),
    back: piston(between(random, 0.12, 0.3), backHz, between(random, 0.025, 0.05), between(random, 20, 50)),
  };
}

/** Which part each mode is called by: the lowest the air, of the others the top the one in which the top has more energy. */
function trueLabels(box: Box): readonly Part[] {
  const modes = boxModes(box);
  if (modes.length === 2) return ['air', 'top'];
  const topFirst = modes[1]!.energyShare.top! > modes[2]!.energyShare.top!;
  return topFirst ? ['air', 'top', 'back'] : ['air', 'back', 'top'];
}

/** A round on a true box in a state, its peaks read with normal noise of `sigmaHz`, labelled rightly by rank. */
export function measuredRound(
  box: Box,
  state: Pick<BoxRound, 'hole' | 'back' | 'addedAtBridgeKg' | 'addedAtBackKg'>,
  sigmaHz: number,
  random: Random,
): BoxRound {
  const heavier = (p: Piston, kg: number): Piston => ({ ...p, massKg: p.massKg + kg });
  const inState: Box = {
    ...box,
    hole: state.hole === 'blocked' ? 'blocked' : box.hole,
    top: heavier(box.top, state.addedAtBridgeKg?.value ?? 0),
    back: state.back === 'held' || box.back === 'held' ? 'held' : heavier(box.back, state.addedAtBackKg?.value ?? 0),
  };
  const labels = trueLabels(box).filter(
    (part) => (part !== 'air' || state.hole === 'open') && (part !== 'back' || state.back === 'free'),
  );
  const peaks = boxModes(inState).map(({ frequencyHz }, k) => [
    labels[k]!,
    estimate(frequencyHz + sigmaHz * normal(random), sigmaHz),
  ]);
  return { ...state, peaksHz: Object.fromEntries(peaks) };
}
