// The readings of an instrument before its repair, with what may be trusted of them, and what they ask of a new top.
import {
  atOtherMoisture,
  matchedThickness,
  type OldReading,
  type SignatureStage,
  soundFactors,
  type TopRatios,
  type TopWood,
  topRatios,
  translatedStiffness,
  USUAL_SHARING,
} from '../box/replacement.ts';
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import type { BoxRepair } from '../record/box-edit.ts';
import { damagesOf } from '../record/damage.ts';
import type { ClimateNote, InstrumentRecord, Piece, Stage } from '../record/record.ts';
import { weatherBetween } from './conditions.ts';
import { moistureOfPiece } from './piece-reading.ts';
import { namedReadings } from './stage-jumps.ts';

/** A reading with where it comes from. */
export interface OldMode extends OldReading {
  readonly readAt: Stage;
  /** false where the humidity of the reading or of the new wood was not noted: the doubt of it is in `sameAirHz` */
  readonly isAirNoted: boolean;
}

/** Relative humidity of a room where none was noted, %RH, and how far it may well be off, one sigma. Common practice, no source. */
const UNNOTED_PERCENT = estimate(48, 8);

/**
 * A reading carried to the air in which the new wood was read.
 * @param to air of the new wood; undefined where it was not noted
 * @returns what the mode would read there, the doubt of the air in its sigma; an air mode is not of wood and stays
 */
function inSameAir(
  frequencyHz: Estimate,
  part: OldReading['part'],
  stage: SignatureStage,
  from: ClimateNote,
  to: ClimateNote = {},
): { readonly sameAirHz: Estimate; readonly isAirNoted: boolean } {
  const isAirNoted = from.humidityPercent !== undefined && to.humidityPercent !== undefined;
  if (part === 'air') return { sameAirHz: frequencyHz, isAirNoted };
  const direction = stage === 'bare plate, long' ? 'long' : stage === 'bare plate, cross' ? 'cross' : 'plate';
  const ratio = (fromPercent: number, toPercent: number): Estimate =>
    weatherBetween(
      { climate: { ...from, humidityPercent: fromPercent } },
      { climate: { ...to, humidityPercent: toPercent } },
      direction,
    )!.frequencyRatio;
  const usual = UNNOTED_PERCENT;
  const [fromPercent, toPercent] = [from.humidityPercent ?? usual.value, to.humidityPercent ?? usual.value];
  const carried = ratio(fromPercent, toPercent);
  const missing = [from, to].filter(({ humidityPercent }) => humidityPercent === undefined).length;
  const perSpread = ratio(usual.value, usual.value + usual.sigma).value - 1;
  const factor = estimate(carried.value, Math.hypot(carried.sigma, Math.sqrt(missing) * perSpread));
  return { sameAirHz: propagated(([hz, by]) => hz! * by!, [frequencyHz, factor]).result, isAirNoted };
}

/** The stage as the translation knows it. */
function signatureStage(stage: Stage, mode: string): SignatureStage | undefined {
  switch (stage) {
    case 'board':
      return undefined;
    case 'joined':
    case 'thicknessed':
      if (mode === 'long-grain bending') return 'bare plate, long';
      if (mode === 'cross-grain bending') return 'bare plate, cross';
      return 'bare plate, twist';
    case 'braced':
      return 'braced, free';
    case 'on-rims':
      return 'on the rims';
    case 'closed':
    case 'strung':
      return 'in the closed box';
  }
}

/**
 * Named modes of the old instrument up to the step before the repair, the last reading of each at each stage. Damage counts
 * against the readings of the last step only: what was read while the instrument was built was read sound.
 * @param newAir air in which the new wood was read, where it was noted
 */
export function oldReadings(old: InstrumentRecord, repair: BoxRepair, newAir?: ClimateNote): readonly OldMode[] {
  const end = old.steps.findIndex((step) => step.id === repair.stepId);
  const found = new Map<string, OldMode>();
  const before = new Set(old.steps.slice(0, end + 1));
  for (const { name, step, frequencyHz } of namedReadings(old)) {
    const stage = signatureStage(step.stage, name);
    if (stage === undefined || !before.has(step)) continue;
    const part = name === 'air' || name === 'back' ? name : 'top';
    found.set(`${step.stage} ${name}`, {
      part,
      stage,
      mode: name,
      frequencyHz,
      ...inSameAir(frequencyHz, part, stage, step.climate, newAir),
      damage: step.id === repair.stepId ? damageOf(part, repair) : [],
      readAt: step.stage,
    });
  }
  return [...found.values()];
}

/** What is wrong with a part as it was last read; the air has nothing to break. */
export function damageOf(part: OldMode['part'], repair: BoxRepair): OldMode['damage'] {
  if (part === 'air') return [];
  const known = damagesOf(repair, part);
  const isSound = part === 'top' ? repair.isTopSound : repair.isBackSound;
  return known.length === 0 && isSound !== true ? 'unasked' : known;
}

/**
 * How far the new top should go down under the weight that the maker set on the old bridge, mm: the old top's own way, carried to the air
 * of the new wood, over how much stiffer the new top is. Damage of the old top made it give more, if anything.
 * @returns undefined where no weight was set on it
 */
export function bridgeAim(
  old: InstrumentRecord,
  repair: BoxRepair,
  ratios: TopRatios,
  newAir?: ClimateNote,
): Estimate | undefined {
  const { bridgeLoadG, bridgeDownMm, stepId } = repair;
  if (bridgeLoadG === undefined || bridgeDownMm === undefined) return undefined;
  const climate = old.steps.find(({ id }) => id === stepId)?.climate ?? {};
  // A stiffness goes with the square of a frequency; that the wood weighs a little more in damp air is left in it.
  const { sameAirHz } = inSameAir(estimate(1, 0), 'top', 'on the rims', climate, newAir);
  return propagated(
    ([down, stiffer, air, ...sound]) => down! / stiffer! / (air! * sound.reduce((product, x) => product * x, 1)) ** 2,
    [
      bridgeDownMm,
      translatedStiffness(ratios, USUAL_SHARING['on the rims']),
      sameAirHz,
      ...soundFactors(damageOf('top', repair)),
    ],
  ).result;
}

/** The air in which the new wood was read, where the repair takes it from a piece whose air was noted. */
export const newWoodAir = ({ newWood }: BoxRepair, pieces: readonly Piece[]): ClimateNote | undefined =>
  pieces.find(({ id }) => id === newWood.pieceId)?.climate;

export type WoodNeed =
  | 'old-density'
  | 'old-along'
  | 'old-across'
  | 'old-thickness'
  | 'new-density'
  | 'new-along'
  | 'new-across';

/** The figures of a measured piece as the repair keeps them; what was not read of it stays open. */
export function repairWoodOf({ id, reading }: Piece): BoxRepair['oldWood'] {
  const { densityKgM3, eLongGpa, eCrossGpa, gGpa } = reading ?? {};
  const plain = ({ value, sigma }: Estimate) => ({ value, sigma });
  return {
    pieceId: id,
    ...(densityKgM3 && { densityKgM3: plain(densityKgM3) }),
    ...(eLongGpa && { eLongGpa: plain(eLongGpa) }),
    ...(eCrossGpa && { eCrossGpa: plain(eCrossGpa) }),
    ...(gGpa && { gGpa: plain(gGpa) }),
  };
}

/**
 * The old top's wood with one of two strips of it taken in. A strip is read along its own length, which for the one cut across the
 * grain is E across. The density is that of the strip read more surely.
 */
export function withStrip(
  wood: BoxRepair['oldWood'],
  way: 'along' | 'across',
  { id, reading }: Piece,
): BoxRepair['oldWood'] {
  const { pieceId: _, ...open } = wood;
  const length = reading?.eLongGpa;
  const density = reading?.densityKgM3;
  const isFirst = (way === 'along' ? open.acrossPieceId : open.alongPieceId) === undefined;
  const isSurer = density !== undefined && (isFirst || density.sigma < (open.densityKgM3?.sigma ?? Infinity));
  return {
    ...open,
    [way === 'along' ? 'alongPieceId' : 'acrossPieceId']: id,
    ...(length && { [way === 'along' ? 'eLongGpa' : 'eCrossGpa']: { value: length.value, sigma: length.sigma } }),
    ...(isSurer && { densityKgM3: { value: density.value, sigma: density.sigma } }),
  };
}

/** The repair with the difference of moisture between its two pieces, where both are known pieces whose air was noted. */
export function withMoistures(repair: BoxRepair, pieces: readonly Piece[]): BoxRepair {
  const moisture = (wood: BoxRepair['oldWood']) => {
    const piece = pieces.find(({ id }) => id === (wood.pieceId ?? wood.alongPieceId));
    return piece === undefined ? undefined : moistureOfPiece(piece);
  };
  const [old, fresh] = [moisture(repair.oldWood), moisture(repair.newWood)];
  return old === undefined || fresh === undefined ? repair : { ...repair, moistureDifferencePercent: fresh - old };
}

/** What the new wood must be, or what is still to be measured. */
export type TopMatch =
  | { readonly kind: 'missing'; readonly needs: readonly WoodNeed[] }
  | {
      readonly kind: 'match';
      /** thickness at which each wish is met, mm */
      readonly thicknessMm: Readonly<Record<BoxRepair['matchBy'], Estimate>>;
      /** thickness the aims are for, mm: the maker's own, else that of the wish */
      readonly chosenMm: Estimate;
      readonly ratios: TopRatios;
    };

/** The woods as they are compared: the old at the moisture of the new. Undefined where something is still to be measured. */
export function oldWoodNow(
  repair: BoxRepair,
): { readonly wood: TopWood; readonly thicknessMm: Estimate; readonly fresh: TopWood } | undefined {
  const old = woodOf(repair.oldWood);
  const fresh = woodOf(repair.newWood);
  if (old === undefined || fresh === undefined || repair.oldThicknessMm === undefined) return undefined;
  const wood = atOtherMoisture(old, repair.moistureDifferencePercent ?? 0);
  return { wood, thicknessMm: repair.oldThicknessMm, fresh };
}

/** Matches the new wood to the old at the moisture of the new. */
export function matchTop(repair: BoxRepair): TopMatch {
  const woods = oldWoodNow(repair);
  if (woods === undefined) return { kind: 'missing', needs: needsOf(repair) };
  const { wood, thicknessMm: oldMm, fresh } = woods;
  const by = (wish: BoxRepair['matchBy']) => matchedThickness(wood, oldMm, fresh, wish);
  const thicknessMm = { along: by('along'), across: by('across'), both: by('both'), mass: by('mass') };
  // whatever is chosen is planed to, and the caliper knows it
  const chosenMm = estimate(repair.newThicknessMm ?? thicknessMm[repair.matchBy].value, 0);
  return { kind: 'match', thicknessMm, chosenMm, ratios: topRatios(wood, oldMm, fresh, chosenMm) };
}

function woodOf({ densityKgM3, eLongGpa, eCrossGpa, gGpa }: BoxRepair['oldWood']): TopWood | undefined {
  if (densityKgM3 === undefined || eLongGpa === undefined || eCrossGpa === undefined) return undefined;
  return { densityKgM3, eLongGpa, eCrossGpa, ...(gGpa && { gGpa }) };
}

function needsOf({ oldWood, newWood, oldThicknessMm }: BoxRepair): readonly WoodNeed[] {
  const all: readonly (readonly [WoodNeed, Estimate | undefined])[] = [
    ['old-density', oldWood.densityKgM3],
    ['old-along', oldWood.eLongGpa],
    ['old-across', oldWood.eCrossGpa],
    ['old-thickness', oldThicknessMm],
    ['new-density', newWood.densityKgM3],
    ['new-along', newWood.eLongGpa],
    ['new-across', newWood.eCrossGpa],
  ];
  return all.flatMap(([need, value]) => (value === undefined ? [need] : []));
}
