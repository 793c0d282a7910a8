// How hard a set of strings pulls when tuned to pitch.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { noteHz, type Tuning } from './tuning.ts';
import { type StringBuild, unitMassKgPerM } from './unit-mass.ts';

/** A set of strings, 1st string first. */
export interface StringSet {
  readonly name: string;
  readonly strings: readonly StringBuild[];
}

/**
 * Tension of a string, N: T = mu (2 L f)².
 * @param unitMass    kg/m, > 0
 * @param soundingM   sounding length (scale length), m, > 0
 * @param frequencyHz open pitch, Hz, > 0
 * @throws RangeError if a value is not > 0
 * Source: Mersenne 1636, Harmonie universelle; mu in kg/m.
 */
export function tensionN(unitMass: Estimate, soundingM: number, frequencyHz: number): Estimate {
  if (!(unitMass.value > 0 && soundingM > 0 && frequencyHz > 0))
    throw new RangeError(`tensionN: ${unitMass.value} kg/m, ${soundingM} m, ${frequencyHz} Hz, need > 0`);
  const perUnitMass = (2 * soundingM * frequencyHz) ** 2;
  return estimate(unitMass.value * perUnitMass, unitMass.sigma * perUnitMass);
}

/** Tension of each string and of all, N. */
export interface SetTension {
  /** (strings,), 1st string first */
  readonly eachN: readonly Estimate[];
  /** sum; the strings' errors taken as common (one maker, one formula), so that it is not flattered */
  readonly totalN: Estimate;
}

/**
 * Tensions of a set in a tuning.
 * @throws RangeError if the set and the tuning have different numbers of strings
 */
export function setTension(set: StringSet, tuning: Tuning, scaleM: number, a4Hz: number): SetTension {
  if (set.strings.length !== tuning.openNotes.length)
    throw new RangeError(
      `setTension: ${set.strings.length} strings, need ${tuning.openNotes.length} for ${tuning.name}`,
    );
  const eachN = set.strings.map((build, i) =>
    tensionN(unitMassKgPerM(build), scaleM, noteHz(tuning.openNotes[i]!, a4Hz)),
  );
  return {
    eachN,
    totalN: estimate(
      eachN.reduce((sum, { value }) => sum + value, 0),
      eachN.reduce((sum, { sigma }) => sum + sigma, 0),
    ),
  };
}

const M_PER_MIL = 25.4e-6;

/** A set by gauges in thousandths of an inch: plain steel, then wound as [gauge, core]. */
function phosphorBronzeSet(
  name: string,
  plainMils: readonly number[],
  woundMils: readonly (readonly [number, number])[],
): StringSet {
  const plain = plainMils.map(
    (mils): StringBuild => ({ kind: 'plain', diameterM: mils * M_PER_MIL, material: 'steel' }),
  );
  const wound = woundMils.map(
    ([mils, coreMils]): StringBuild => ({
      kind: 'wound',
      diameterM: mils * M_PER_MIL,
      coreDiameterM: coreMils * M_PER_MIL,
      core: 'steel',
      wrap: 'phosphor bronze',
    }),
  );
  return { name, strings: [...plain, ...wound] };
}

/** Core of wound nylon basses: a floss of about this thickness under the wrap, m. Common practice, no source. */
const FLOSS_CORE_M = 0.44e-3;

/** A set for a classical guitar: plain nylon, then silvered copper on nylon floss; gauges in mm. */
function nylonSet(name: string, plainMm: readonly number[], woundMm: readonly number[]): StringSet {
  const plain = plainMm.map((mm): StringBuild => ({ kind: 'plain', diameterM: mm / 1000, material: 'nylon' }));
  const wound = woundMm.map(
    (mm): StringBuild => ({
      kind: 'wound',
      diameterM: mm / 1000,
      coreDiameterM: FLOSS_CORE_M,
      core: 'nylon',
      wrap: 'silvered copper',
    }),
  );
  return { name, strings: [...plain, ...wound] };
}

/** Gauges as commonly sold; cores about as usual. Common practice, no source. */
export const STRING_SETS: readonly StringSet[] = [
  phosphorBronzeSet(
    'extra light 10-47',
    [10, 14],
    [
      [23, 11],
      [30, 14],
      [39, 16],
      [47, 17],
    ],
  ),
  phosphorBronzeSet(
    'custom light 11-52',
    [11, 15],
    [
      [23, 11],
      [32, 15],
      [42, 17],
      [52, 18],
    ],
  ),
  phosphorBronzeSet(
    'light 12-53',
    [12, 16],
    [
      [24, 12],
      [32, 15],
      [42, 17],
      [53, 19],
    ],
  ),
  phosphorBronzeSet(
    'medium 13-56',
    [13, 17],
    [
      [26, 13],
      [35, 16],
      [45, 18],
      [56, 20],
    ],
  ),
  nylonSet('nylon, light', [0.69, 0.8, 1], [0.72, 0.86, 1.06]),
  nylonSet('nylon, medium', [0.71, 0.82, 1.02], [0.74, 0.89, 1.09]),
  nylonSet('nylon, heavy', [0.73, 0.84, 1.05], [0.76, 0.92, 1.12]),
];
