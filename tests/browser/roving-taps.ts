// A top that is not quite its drawing, tapped: an ordinary round at one spot, and a round from spot to spot. The shapes are known.
import { randomFrom } from '../../src/demo/random.ts';
import { roomNoise } from '../../src/demo/room.ts';
import { quantised } from '../../src/demo/tap-synth.ts';
import { writeWav16 } from '../../src/files/wav-write.ts';
import { distinctModeNames } from '../../src/plate/mode-name.ts';
import { deflection } from '../../src/plate/mode-shape.ts';
import { checkPlate } from '../../src/plate/plate-check.ts';
import { preparePlate } from '../../src/plate/plate-modes.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { spotGrid, walked } from '../../src/shapes/spot-grid.ts';
import { partners, piece, solved } from '../bench/pairing.ts';
import { landed, ringingPiece, roundRateHz, strikeInto } from '../shapes/roving-sound.ts';
import { forMicrophone } from './sound.ts';

const MODES = 6;
const LEAD_IN_S = 2;
const EVERY_S = 2;
/** Noise of a quiet room, of full scale. */
const NOISE = 0.0006;

export interface RovedTop {
  /** WAV of one hold each */
  readonly ordinary: readonly Uint8Array[];
  /** for the fake microphone, the first tap after two seconds */
  readonly roving: Uint8Array;
  readonly spots: number;
  /** of the modes that the taps hold: frequency, and the name of the computed mode whose shape it has */
  readonly truth: readonly { readonly frequencyHz: number; readonly name: string; readonly likeness: number }[];
}

/** The plan that the page begins with, in a mould, its bridge off; the piece is of other woods. */
export function rovedTop(seed: number, spotCount: number, tapsPerSpot: number): RovedTop {
  const random = randomFrom(seed);
  const plate = checkPlate(planCase(startPlan('right'), { hold: 'in-mould', bridge: 'off' })).solvable;
  if (plate === undefined) throw new Error('rovedTop: no plate');
  const prepared = preparePlate(plate, 36);
  const modes = solved(prepared, plate, MODES + 4);
  const shapes = modes.map((mode) => deflection(prepared, mode));
  const drawn = { name: '', plate, prepared, modes, shapes, spots: [] };
  const own = solved(prepared, piece(random, drawn, 'other woods'), MODES);
  const ownShapes = own.map((mode) => deflection(prepared, mode));
  const rings = ringingPiece(
    random,
    own.map(({ frequencyHz }) => frequencyHz),
  );
  const at = walked(spotGrid(plate, spotCount));
  const noisy = (taps: number) =>
    roomNoise(Math.round((LEAD_IN_S + EVERY_S * taps + 0.5) * roundRateHz), roundRateHz, NOISE, random);
  const taps = at.flatMap((spot) => Array.from({ length: tapsPerSpot }, () => spot));
  const roving = noisy(taps.length);
  taps.forEach((spot, i) => {
    strikeInto(roving, LEAD_IN_S + EVERY_S * i, random, rings, landed(random, prepared, ownShapes, spot));
  });
  const lively = landed(random, prepared, ownShapes, [at[2]![0], at[2]![1]]).map((w) => 0.3 + Math.abs(w));
  const ordinary = [0, 1].map(() => {
    const hold = noisy(4);
    for (let tap = 0; tap < 4; tap++) strikeInto(hold, LEAD_IN_S + EVERY_S * tap, random, rings, lively);
    return writeWav16([quantised(hold)], roundRateHz);
  });
  const names = distinctModeNames(prepared.mesh, shapes, false);
  const is = partners(ownShapes, shapes);
  return {
    ordinary,
    roving: forMicrophone(roving),
    spots: at.length,
    truth: own.map(({ frequencyHz }, k) => ({
      frequencyHz,
      name: names[is[k]!.computed]!,
      likeness: is[k]!.likeness,
    })),
  };
}
