// Strings as the record keeps them, as the physics of strings wants them.

import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { BoxStrings } from '../record/box-edit.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { type BridgeLoad, bridgeLoad, type LoadCaution, loadCautions, USUAL_BRIDGE_LIMITS } from '../strings/bridge.ts';
import { type SetTension, STRING_SETS, type StringSet, setTension } from '../strings/tension.ts';
import { TUNINGS, type Tuning } from '../strings/tuning.ts';
import type { StringBuild } from '../strings/unit-mass.ts';

/** The set typed by the maker goes by this name. */
export const OWN_SET = 'own set';

export type StringsNeed = 'own-gauges' | 'core-not-thinner' | 'string-count';

export type StringLoad =
  | { readonly kind: 'not-ready'; readonly because: StringsNeed }
  | { readonly kind: 'load'; readonly set: StringSet; readonly tension: SetTension; readonly bridge: BridgeLoad };

/** A weight per metre from a table or the scale, one standard deviation as a share. Common practice, no source. */
const WEIGHED_SIGMA = 0.01;
/** How well an angle at the bridge is read, one standard deviation, degrees. Common practice, no source. */
const TURN_SIGMA_DEG = 0.1;

/** Strings where none are entered: a usual steel-string guitar of the plan's scale. Common practice, no source. */
export const usualStrings = ({ plan }: Pick<InstrumentRecord, 'plan'>): BoxStrings => ({
  setName: 'light 12-53',
  scaleMm: plan?.scaleMm ?? 645,
  tuning: 'standard',
  saddleHeightMm: 12.5,
  breakAngleDeg: 25,
  neckAngleDeg: 0.5,
});

/** The tuning of that name, standard where there is none. */
export const tuningNamed = (name: string | undefined): Tuning =>
  TUNINGS.find((known) => known.name === name) ?? TUNINGS[0]!;

/** Pull and load of a set by name on this instrument. */
export function stringLoad(strings: BoxStrings, setName: string, a4Hz: number): StringLoad {
  const set = setNamed(strings, setName);
  if ('because' in set) return set;
  const tuning = tuningNamed(strings.tuning);
  if (set.strings.length !== tuning.openNotes.length) return { kind: 'not-ready', because: 'string-count' };
  const tension = setTension(set, tuning, strings.scaleMm / 1000, a4Hz);
  const bridge = bridgeLoad(tension.totalN, {
    stringHeightM: strings.saddleHeightMm / 1000,
    breakAngleRad: radians(strings.breakAngleDeg),
    neckAngleRad: radians(strings.neckAngleDeg),
  });
  return { kind: 'load', set, tension, bridge };
}

function setNamed(strings: BoxStrings, name: string): StringSet | (StringLoad & { readonly kind: 'not-ready' }) {
  if (name !== OWN_SET) return STRING_SETS.find((known) => known.name === name) ?? STRING_SETS[0]!;
  const builds = (strings.ownSet ?? []).map(buildOf);
  const bad = builds.find((build) => typeof build === 'string');
  if (bad !== undefined) return { kind: 'not-ready', because: bad };
  if (builds.length === 0) return { kind: 'not-ready', because: 'own-gauges' };
  return { name, strings: builds.filter((build) => typeof build !== 'string') };
}

function buildOf(string: NonNullable<BoxStrings['ownSet']>[number]): StringBuild | StringsNeed {
  const { kind, diameterMm, coreMm, unitMassGPerM, material = 'steel' } = string;
  if (kind === 'weighed') {
    if (unitMassGPerM === undefined) return 'own-gauges';
    const kgPerM = unitMassGPerM / 1000;
    return { kind, unitMassKgPerM: estimate(kgPerM, WEIGHED_SIGMA * kgPerM) };
  }
  if (diameterMm === undefined) return 'own-gauges';
  if (kind === 'plain') return { kind, diameterM: diameterMm / 1000, material };
  if (coreMm === undefined) return 'own-gauges';
  if (coreMm >= diameterMm) return 'core-not-thinner';
  return {
    kind,
    diameterM: diameterMm / 1000,
    coreDiameterM: coreMm / 1000,
    core: material,
    wrap: material === 'nylon' ? 'silvered copper' : 'phosphor bronze',
  };
}

/** A reading of the bridge's turn with its doubt, degrees. */
export const turnRead = (turnDeg: number): Estimate => estimate(turnDeg, TURN_SIGMA_DEG);

/** What to be careful of with this set on this instrument. */
export function stringCautions(
  strings: BoxStrings,
  totalN: Estimate,
  before: Estimate | undefined,
): readonly LoadCaution[] {
  const last = strings.turns?.at(-1);
  return loadCautions(
    {
      totalN,
      isWorkPlanned: true,
      ...(last === undefined ? {} : { turnDeg: turnRead(last.turnDeg) }),
      ...(strings.ageYears === undefined ? {} : { ageYears: strings.ageYears }),
      ...(before === undefined ? {} : { totalBeforeN: before }),
    },
    USUAL_BRIDGE_LIMITS,
  );
}

const radians = (deg: number): number => (deg * Math.PI) / 180;
