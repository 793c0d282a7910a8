// The solved box as a model again, so that its response can be laid over the spectrum and its knobs turned.
import { solveLinear } from '../algebra/small-matrix.ts';
import type { BoxFound, BoxSetting, PlateFound } from './inverse.ts';
import { type Box, boxModes, cushionPaPerM3, type Part, type Piston } from './pistons.ts';
import { type Soundhole, tunedTo } from './soundhole.ts';

/** A mass for a back of which only the grip on the air is known, kg: all but the back's own motion is the same for any. */
const ANY_BACK_KG = 0.2;

/**
 * The box that was found, with each part's losses such that the modes have the Q that was measured.
 * f_n / Q_n = sum over parts of share_n,part x f_part / Q_part, solved for the parts; where that would make a part gain
 * energy, all parts get the mean loss.
 * @param found  what `solveBox` found
 * @param hole   the hole by ruler; its effective length is set to the air resonance found
 * @param modeQs measured Q of the open box's modes, ascending in frequency, one for each, > 0
 * @returns undefined where no mass was added on the top, since then nothing per newton is known
 * @throws RangeError if the number of Qs is not that of the modes
 * Source: light damping as in `boxModes`; our derivation, tests/box/found-box.test.ts.
 */
export function foundBox(
  found: BoxFound & { readonly kind: 'solved' },
  { air, volumeM3 }: BoxSetting,
  hole: Soundhole,
  modeQs: readonly number[],
): Box | undefined {
  if (found.top.effective === undefined) return undefined;
  const cushion = cushionPaPerM3(air, volumeM3.value);
  const top = piston(found.top, found.top.effective.massKg.value, cushion);
  const back =
    found.back === 'held' ? found.back : piston(found.back, found.back.effective?.massKg.value ?? ANY_BACK_KG, cushion);
  const tuned = tunedTo(hole, found.airHz.value, air, volumeM3.value);
  const box: Box = { air, volumeM3: volumeM3.value, hole: tuned, top, back };
  const modes = boxModes(box);
  if (modeQs.length !== modes.length) throw new RangeError(`foundBox: ${modeQs.length} Q, need ${modes.length}`);
  const ownHz: [Part, number][] = [
    ['top', found.top.vacuoHz.value],
    ...(found.back === 'held' ? [] : [['back', found.back.vacuoHz.value] as [Part, number]]),
    ['air', found.airHz.value],
  ];
  const losses = modes.map(({ frequencyHz }, n) => frequencyHz / modeQs[n]!);
  const shares = modes.map(({ energyShare }) => ownHz.map(([part]) => energyShare[part]!));
  const solved = solveLinear(shares, losses);
  const mean = losses.reduce((sum, loss) => sum + loss, 0) / losses.length;
  const q = new Map(ownHz.map(([part, hz], i) => [part, hz / (solved.every((l) => l > 0) ? solved[i]! : mean)]));
  return {
    ...box,
    hole: { ...tuned, q: q.get('air')! },
    top: { ...top, q: q.get('top')! },
    back: back === 'held' ? back : { ...back, q: q.get('back')! },
  };
}

/** A plate from its frequencies and a mass: K = m (2 pi f)², A = 2 pi grip sqrt(m / B), grip² = uncoupled² - vacuo². */
function piston({ vacuoHz, uncoupledHz }: PlateFound, massKg: number, cushion: number): Piston {
  const gripHz = Math.sqrt(Math.max(uncoupledHz.value ** 2 - vacuoHz.value ** 2, 0));
  return {
    massKg,
    stiffnessNPerM: massKg * (2 * Math.PI * vacuoHz.value) ** 2,
    areaM2: 2 * Math.PI * gripHz * Math.sqrt(massKg / cushion),
    q: 1,
  };
}
