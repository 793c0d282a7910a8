// From a piece of wood in the record to what the physics of boards and sticks asks for, and to what shelves compare.
import { type Estimate, propagated, scaled } from '../quantity/estimate.ts';
import type { Piece, Round, StoredMode } from '../record/record.ts';
import { leavesQ } from '../signal/tap.ts';
import type { BoardConstants, BoardTaps } from '../wood/board-constants.ts';
import { climateEffect, densityAtReference, HYGROMETER_SIGMA, REFERENCE_CLIMATE } from '../wood/climate.ts';
import { type ElasticStart, elasticStart } from '../wood/elastic-start.ts';
import type { TapKind } from '../wood/hold-guide.ts';
import type { ShelfBoard, ShelfStick } from '../wood/matching.ts';
import type { MeasuredBoard, TappedMode } from '../wood/measured-board.ts';
import { type Climate, equilibriumMoisturePercent, type GrainDirection } from '../wood/moisture.ts';
import { speciesById } from '../wood/species.ts';
import type { StickConstants } from '../wood/stick.ts';
import type { MeasuredWood } from '../wood/thickness.ts';
import { mapThickness, type ThicknessMap } from '../wood/thickness-map.ts';

/** Name and version of the ways a reading is made. */
const boardMethod = 'free-plate/1';
const stickMethod = 'free-bar/1';
export const importedMethod = 'from a table';

/** Handbook values of the piece's wood; free text counts as a softwood. */
export const startOf = (piece: Pick<Piece, 'species'>): ElasticStart => elasticStart(speciesById(piece.species));

/** Sizes and mass, or undefined where one is missing. The thickness is the caliper map's mean where there is one. */
export function sizesOf(piece: Piece): MeasuredBoard | undefined {
  const { lengthMm, widthMm, thicknessMm, massG, unevenMm = 0 } = piece;
  if (!(lengthMm && widthMm && thicknessMm && massG)) return undefined;
  const map = mapOf(piece);
  // Anywhere between the thinnest and the thickest place is as likely: a rectangular distribution.
  const typed = { value: thicknessMm.value, sigma: Math.hypot(thicknessMm.sigma, unevenMm / Math.sqrt(12)) };
  return { lengthMm, widthMm, thicknessMm: map?.meanMm ?? typed, massG };
}

/** The caliper's map of a piece, or undefined where it has too few points. */
function mapOf({ lengthMm, widthMm, thicknessMm, caliper }: Piece): Mapped | undefined {
  if (!(lengthMm && widthMm && thicknessMm)) return undefined;
  const size = { lengthMm: lengthMm.value, widthMm: widthMm.value };
  const map = mapThickness(caliper, size, thicknessMm.sigma);
  return map.kind === 'mapped' ? map : undefined;
}

type Mapped = Extract<ThicknessMap, { kind: 'mapped' }>;

/**
 * Why a board is not read though it was tapped: the formulas hold for a rectangle of one thickness, and nobody said that it
 * is one, or somebody said that it is not.
 */
export function unfitBoard(piece: Piece): 'shape-not-said' | 'thickness-not-said' | 'cut-out' | undefined {
  if (piece.shape === undefined) return 'shape-not-said';
  if (piece.shape === 'cut-out') return 'cut-out';
  return piece.unevenMm === undefined && mapOf(piece) === undefined ? 'thickness-not-said' : undefined;
}

/** One mode of a piece and where it comes from. */
export interface ModeOfPiece extends TappedMode {
  readonly origin: 'maker' | 'round';
}

/** The last round made for a mode that was read and not set aside. */
export function lastRoundFor(piece: Piece, kind: TapKind): Round | undefined {
  return piece.rounds.findLast(
    (round) => round.wanted === kind && round.state === 'closed' && (round.fit?.modes.length ?? 0) > 0,
  );
}

/** The modes of a round; without Q where its recorder changed how it rings. */
export const heardIn = ({ fit }: Round): readonly (TappedMode & Pick<StoredMode, 'levelDb'>)[] =>
  (fit?.modes ?? []).map(({ frequencyHz, q, levelDb }) =>
    leavesQ(fit?.recorder) ? { frequencyHz, q, levelDb } : { frequencyHz, levelDb },
  );

/** The strongest mode of a round: the hold and the spot were chosen so that it is the wanted one. */
function strongest(round: Round): TappedMode {
  return heardIn(round).reduce((loudest, mode) => (mode.levelDb > loudest.levelDb ? mode : loudest));
}

/** The mode of each tap: the maker's word first, else the strongest of the last round made for it. */
export function modesOf(piece: Piece): Readonly<Partial<Record<TapKind, ModeOfPiece>>> {
  const found: Partial<Record<TapKind, ModeOfPiece>> = {};
  for (const kind of ['long-grain-bending', 'cross-grain-bending', 'twist'] as const) {
    const word = piece.modes.find((mode) => mode.id === kind);
    const round = lastRoundFor(piece, kind);
    const mode = word ?? (round === undefined ? undefined : strongest(round));
    if (mode === undefined) continue;
    const { frequencyHz, q } = mode;
    found[kind] = { frequencyHz, ...(q === undefined ? {} : { q }), origin: word === undefined ? 'round' : 'maker' };
  }
  return found;
}

/** Every peak heard in the rounds of a piece, one for each frequency: the loudest of those within half a per cent. */
export function piecePeaks(piece: Piece): readonly TappedMode[] {
  const all = piece.rounds
    .filter((round) => round.state === 'closed')
    .flatMap(heardIn)
    .toSorted((a, b) => b.levelDb - a.levelDb);
  const kept: TappedMode[] = [];
  for (const mode of all)
    if (!kept.some((known) => Math.abs(mode.frequencyHz.value / known.frequencyHz.value - 1) < 0.005)) kept.push(mode);
  return kept
    .toSorted((a, b) => a.frequencyHz.value - b.frequencyHz.value)
    .map(({ frequencyHz, q }) => (q === undefined ? { frequencyHz } : { frequencyHz, q }));
}

/** What a board is read from, or undefined where a size or the mass is missing. */
export function boardTapsOf(piece: Piece): BoardTaps | undefined {
  const board = sizesOf(piece);
  if (board === undefined) return undefined;
  const high = mapOf(piece)?.readsHigh;
  const taps: Partial<Record<TapKind, TappedMode>> = {};
  const unevenness: Partial<Record<TapKind, number>> = {};
  for (const [kind, { frequencyHz, q }] of Object.entries(modesOf(piece)) as [TapKind, ModeOfPiece][]) {
    // As a flat board of the mean thickness would have rung: E goes with the square of the frequency.
    const flat = high === undefined ? frequencyHz : scaled(frequencyHz, 1 / Math.sqrt(1 + high[kind].value));
    taps[kind] = q ? { frequencyHz: flat, q } : { frequencyHz: flat };
    if (high !== undefined) unevenness[kind] = high[kind].sigma / 2 / (1 + high[kind].value);
  }
  return { board, taps, unevenness };
}

const plain = ({ value, sigma }: Estimate): Estimate => ({ value, sigma });

/** The reading of a board as the record keeps it. */
export function keptReading(
  piece: Piece,
  constants: Pick<BoardConstants, 'densityKgM3' | 'eLongGpa' | 'eCrossGpa' | 'gGpa'>,
  atIso: string,
): NonNullable<Piece['reading']> {
  const modes = modesOf(piece);
  const q = (kind: TapKind, key: 'qLong' | 'qCross' | 'qTwist') => {
    const found = modes[kind]?.q;
    return found === undefined ? {} : { [key]: plain(found) };
  };
  return {
    method: boardMethod,
    atIso,
    densityKgM3: plain(constants.densityKgM3),
    eLongGpa: plain(constants.eLongGpa),
    eCrossGpa: plain(constants.eCrossGpa),
    gGpa: plain(constants.gGpa),
    ...q('long-grain-bending', 'qLong'),
    ...q('cross-grain-bending', 'qCross'),
    ...q('twist', 'qTwist'),
  };
}

/** The reading of a brace stick as the record keeps it. */
export function keptStickReading(
  piece: Piece,
  { densityKgM3, eGpa, gGpa }: Pick<StickConstants, 'densityKgM3' | 'eGpa' | 'gGpa'>,
  atIso: string,
): NonNullable<Piece['reading']> {
  const q = modesOf(piece)['long-grain-bending']?.q;
  return {
    method: stickMethod,
    atIso,
    densityKgM3: plain(densityKgM3),
    eLongGpa: plain(eGpa),
    ...(gGpa === undefined ? {} : { gGpa: plain(gGpa) }),
    ...(q === undefined ? {} : { qLong: plain(q) }),
  };
}

/** A piece as a board of the shelf, or undefined where not all four constants are known. */
export function shelfBoardOf({ id, reading }: Piece): ShelfBoard | undefined {
  const { densityKgM3, eLongGpa, eCrossGpa, gGpa } = reading ?? {};
  return densityKgM3 && eLongGpa && eCrossGpa && gGpa ? { id, densityKgM3, eLongGpa, eCrossGpa, gGpa } : undefined;
}

/** A piece as a stick of the shelf. */
export function shelfStickOf({ id, reading }: Piece): ShelfStick | undefined {
  const { densityKgM3, eLongGpa } = reading ?? {};
  return densityKgM3 && eLongGpa ? { id, densityKgM3, eGpa: eLongGpa } : undefined;
}

/** A piece as the wood of a plate. */
export function plateWoodOf(piece: Piece): MeasuredWood | undefined {
  const board = shelfBoardOf(piece);
  if (board === undefined) return undefined;
  const { eLongGpa, eCrossGpa, gGpa, densityKgM3 } = board;
  return { eLongGpa, eCrossGpa, gGpa, densityKgM3, nuLR: startOf(piece).nuLR.value };
}

/** The air a piece was measured in, or undefined where the humidity was not noted. Room temperature if that is missing. */
export function airOf({ climate }: Pick<Piece, 'climate'>): Climate | undefined {
  return climate.humidityPercent === undefined
    ? undefined
    : { humidityPercent: Math.min(climate.humidityPercent, 99.9), tempC: climate.tempC ?? 20 };
}

/** Moisture of a piece, %: by a meter, else what it comes to rest at in its air. */
export function moistureOfPiece(piece: Piece): number | undefined {
  const air = airOf(piece);
  return piece.moisturePercent ?? (air === undefined ? undefined : equilibriumMoisturePercent(air));
}

/**
 * A piece with its reading carried to the reference climate, or undefined where its air was not noted.
 * @param hygrometerSigma what the noted humidity is worth, %RH
 */
export function atReference(piece: Piece, hygrometerSigma = HYGROMETER_SIGMA): Piece | undefined {
  const air = airOf(piece);
  if (piece.reading === undefined || air === undefined) return undefined;
  const { densityKgM3 } = piece.reading;
  const carried = (key: 'eLongGpa' | 'eCrossGpa' | 'gGpa', ratio: Estimate) => {
    const measured = piece.reading?.[key];
    if (measured === undefined) return {};
    return { [key]: propagated(([value, factor]) => value! * factor!, [measured, ratio]).result };
  };
  const effect = (direction: GrainDirection) => climateEffect(air, REFERENCE_CLIMATE, direction, hygrometerSigma);
  return {
    ...piece,
    reading: {
      ...piece.reading,
      ...(densityKgM3 === undefined
        ? {}
        : { densityKgM3: densityAtReference(densityKgM3, air, REFERENCE_CLIMATE, hygrometerSigma) }),
      ...carried('eLongGpa', effect('long').modulusRatio),
      ...carried('eCrossGpa', effect('cross').modulusRatio),
      ...carried('gGpa', effect('plate').modulusRatio),
    },
  };
}
