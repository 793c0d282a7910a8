// The maker's own instruments as a library: how a model comes out at a stage, a target from that, and the earlier
// instrument that is nearest to the one on the bench.
import { type Estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import { studentHalfWidth95 } from '../quantity/quantile.ts';
import type { BracingPattern } from '../record/plan-patterns.ts';
import type { InstrumentRecord, Stage, Support, Target } from '../record/record.ts';
import { centsBetween } from './match.ts';
import { namedSignatures } from './named-modes.ts';
import { patternOf } from './pattern-of.ts';
import { seriesKey } from './series.ts';
import { sameSupport } from './signature.ts';

/** The last signature of an instrument at one stage under one support: its named modes. */
export interface LibraryEntry {
  readonly recordId: string;
  readonly name: string;
  readonly model: string;
  readonly stage: Stage;
  readonly support: Support;
  readonly atIso: string;
  /** by the maker's names, Hz; at least one */
  readonly modes: ReadonlyMap<string, Estimate>;
}

/** What a list of instruments is filtered by. */
export interface RecordFacts {
  readonly id: string;
  readonly kind: InstrumentRecord['kind'];
  readonly name: string;
  readonly model: string;
  readonly hand: InstrumentRecord['hand'];
  /** every stage it has a step of, in the order of building */
  readonly stages: readonly Stage[];
  readonly lastStage: Stage | undefined;
  /** wood of the tops, else of the plan: ids of listed species, or the maker's words; each once */
  readonly species: readonly string[];
  /** as drawn; undefined where nothing is drawn, or the braces make none of the known patterns */
  readonly pattern: BracingPattern | undefined;
  /** the maker's own mark */
  readonly loved: boolean;
  readonly steps: number;
  readonly taps: number;
  /** names that the maker gave to its modes */
  readonly namedModes: readonly string[];
  readonly firstAtIso: string;
  readonly lastAtIso: string;
  readonly archived: boolean;
  readonly deleted: boolean;
}

/** The facts of a record that a list is filtered by. */
export function recordFacts(record: InstrumentRecord): RecordFacts {
  const times = [record.createdAtIso, ...record.steps.map((step) => step.atIso)];
  const moments = times.toSorted((a, b) => Date.parse(a) - Date.parse(b));
  return {
    id: record.id,
    kind: record.kind,
    name: record.name,
    model: record.model,
    hand: record.hand,
    stages: [...new Set(record.steps.map((step) => step.stage))],
    lastStage: record.steps.at(-1)?.stage,
    species: speciesOf(record),
    pattern: record.plan === undefined ? undefined : patternOf(record.plan),
    loved: record.loved ?? false,
    steps: record.steps.length,
    taps: record.steps.reduce((sum, step) => sum + step.rounds.reduce((taps, round) => taps + round.taps.length, 0), 0),
    namedModes: [...new Set(record.pins.map((pin) => pin.mode))],
    firstAtIso: moments[0]!,
    lastAtIso: moments.at(-1)!,
    archived: record.archived,
    deleted: record.deletedAtIso !== undefined,
  };
}

function speciesOf({ pieces = [], plan }: InstrumentRecord): readonly string[] {
  const tops = pieces.filter((piece) => piece.kind === 'top').map((piece) => piece.species);
  const drawn = plan === undefined ? [] : [plan.wood.speciesId];
  return [...new Set(tops.length > 0 ? tops : drawn)].filter((species) => species !== '');
}

/** Name and version of what a card holds; an older one is made anew. */
export const cardMethod = 'library-card/1';

/** All that the library needs of one record, so that the document with its steps can stay closed. */
export interface LibraryCard {
  readonly method: string;
  readonly facts: RecordFacts;
  /** named signatures, the last of each stage and support */
  readonly entries: readonly LibraryEntry[];
}

export const cardOf = (record: InstrumentRecord): LibraryCard => ({
  method: cardMethod,
  facts: recordFacts(record),
  entries: libraryOf([record]),
});

/** What a list of instruments is narrowed by; what is undefined narrows nothing. */
export interface LibraryFilter {
  /** part of name or model, upper and lower case alike */
  readonly text: string;
  readonly stage: Stage | undefined;
  readonly species: string | undefined;
  readonly pattern: BracingPattern | undefined;
  readonly model: string | undefined;
  readonly favouritesOnly: boolean;
}

/** Whether a record passes the filter. The stage is the one it has reached. */
export function passes(facts: RecordFacts, filter: LibraryFilter): boolean {
  return (
    `${facts.name} ${facts.model}`.toLowerCase().includes(filter.text.trim().toLowerCase()) &&
    (filter.stage === undefined || facts.lastStage === filter.stage) &&
    (filter.species === undefined || facts.species.includes(filter.species)) &&
    (filter.pattern === undefined || facts.pattern === filter.pattern) &&
    (filter.model === undefined || facts.model.trim() === filter.model) &&
    (!filter.favouritesOnly || facts.loved)
  );
}

/** The library of the records given: instruments that are not in the bin, each stage and support by its last signature. */
export function libraryOf(records: readonly InstrumentRecord[]): readonly LibraryEntry[] {
  return records
    .filter((record) => record.kind === 'instrument' && record.deletedAtIso === undefined)
    .flatMap((record) => {
      const last = new Map<string, LibraryEntry>();
      for (const { step, signature, modes } of namedSignatures(record).toReversed()) {
        const { support } = signature;
        const key = seriesKey({ stage: step.stage, support });
        if (last.has(key)) continue;
        const named = new Map(
          modes.flatMap(({ name, mode }) => (name === undefined ? [] : [[name, mode.frequencyHz] as const])),
        );
        if (named.size === 0) continue;
        last.set(key, {
          recordId: record.id,
          name: record.name,
          model: record.model,
          stage: step.stage,
          support,
          atIso: step.atIso,
          modes: named,
        });
      }
      return [...last.values()];
    });
}

/** How one mode came out over several instruments. */
export interface ModeSpread {
  readonly mode: string;
  readonly instruments: readonly { readonly recordId: string; readonly frequencyHz: Estimate }[];
  /** mean over the instruments, Hz, with the standard uncertainty of that mean; of one instrument, its own */
  readonly meanHz: Estimate;
  /**
   * standard deviation of one instrument, Hz, with its own uncertainty, from two instruments on. It holds what the
   * taps could not resolve as well as what the instruments differ by.
   */
  readonly spreadHz: Estimate | undefined;
}

/** Which instruments are taken together. */
export interface LibrarySelection {
  /** undefined takes every model together */
  readonly model: string | undefined;
  readonly stage: Stage;
  readonly support: Support;
}

/**
 * Mean and spread of every named mode over the instruments of a model, at one stage and under one support.
 * @returns in ascending order of the mean; empty where no instrument was measured so
 * Source: JCGM 100:2008 (GUM) sections 4.2.2 and 4.2.3 (spread, and of the mean s / sqrt n); E.4.3 (relative uncertainty of
 * a spread, 1 / sqrt(2 (n - 1))).
 */
export function modeSpreads(library: readonly LibraryEntry[], selection: LibrarySelection): readonly ModeSpread[] {
  const members = new Map<string, { recordId: string; frequencyHz: Estimate }[]>();
  for (const entry of library) {
    if (!isSelected(entry, selection)) continue;
    for (const [mode, frequencyHz] of entry.modes) {
      const known = members.get(mode) ?? [];
      known.push({ recordId: entry.recordId, frequencyHz });
      members.set(mode, known);
    }
  }
  return [...members]
    .map(([mode, instruments]) => ({ mode, instruments, ...spreadOf(instruments.map((one) => one.frequencyHz)) }))
    .toSorted((a, b) => a.meanHz.value - b.meanHz.value);
}

const isSelected = (entry: LibraryEntry, { model, stage, support }: LibrarySelection): boolean =>
  (model === undefined || entry.model.trim() === model.trim()) &&
  entry.stage === stage &&
  sameSupport(entry.support, support);

function spreadOf(values: readonly Estimate[]): Pick<ModeSpread, 'meanHz' | 'spreadHz'> {
  const n = values.length;
  const mean = values.reduce((sum, one) => sum + one.value, 0) / n;
  if (n === 1) return { meanHz: values[0]!, spreadHz: undefined };
  const spread = Math.sqrt(values.reduce((sum, one) => sum + (one.value - mean) ** 2, 0) / (n - 1));
  return {
    meanHz: { value: mean, sigma: spread / Math.sqrt(n) },
    spreadHz: { value: spread, sigma: spread / Math.sqrt(2 * (n - 1)) },
  };
}

/**
 * The mean of a mode for the eye: with a sigma such that 1.96 of it are Student's 95 % interval, since of a few instruments
 * the spread itself is little known.
 * Source: JCGM 100:2008 (GUM) section G.3.2.
 */
export function shownMean({ meanHz, instruments }: ModeSpread): Estimate {
  return instruments.length < 2
    ? meanHz
    : { value: meanHz.value, sigma: (meanHz.sigma * studentHalfWidth95(instruments.length - 1)) / HALF_WIDTH_95 };
}

/** Fewest instruments whose spread is taken for a tolerance: of two it says next to nothing. Common practice, no source. */
const leastInstruments = 3;

/** A target "the same again", or how many instruments are missing for one. */
export type SameAgain =
  | { readonly kind: 'target'; readonly target: Omit<Target, 'id' | 'origin'>; readonly instruments: number }
  | { readonly kind: 'too-few'; readonly have: number; readonly need: number };

/**
 * The mean of the maker's own instruments as a target; its natural tolerance is the spread of one instrument, but never
 * less than what the taps can tell.
 */
export function sameAgain(spread: ModeSpread, stage: Stage): SameAgain {
  const n = spread.instruments.length;
  if (n < leastInstruments || spread.spreadHz === undefined)
    return { kind: 'too-few', have: n, need: leastInstruments };
  const resolved = Math.sqrt(spread.instruments.reduce((sum, one) => sum + one.frequencyHz.sigma ** 2, 0) / n);
  // Instruments that agree to the last digit of a stored figure still leave a target some width.
  const toleranceHz = Math.max(spread.spreadHz.value, resolved, 1e-3);
  return {
    kind: 'target',
    target: { mode: spread.mode, stage, frequencyHz: spread.meanHz.value, toleranceHz },
    instruments: n,
  };
}

/** An earlier instrument and how far its modes lie from those on the bench. */
export interface Neighbour {
  readonly entry: LibraryEntry;
  /** root mean square interval over the modes that both have, cents */
  readonly distanceCents: Estimate;
  readonly sharedModes: readonly string[];
}

/** Fewest shared modes by which instruments are called near: by one alone any two can be. Common practice, no source. */
export const leastShared = 2;

/**
 * Earlier instruments by their distance from the one on the bench, nearest first: same stage and support, whatever the
 * model, and at least two named modes in common.
 * Source: our derivation (root mean square of the intervals; its sigma by JCGM 100:2008 eq. 10), see
 * tests/compare/library.test.ts.
 */
export function nearestInstruments(bench: LibraryEntry, library: readonly LibraryEntry[]): readonly Neighbour[] {
  return library
    .filter(
      (entry) =>
        entry.recordId !== bench.recordId && entry.stage === bench.stage && sameSupport(entry.support, bench.support),
    )
    .map((entry): Neighbour => {
      const sharedModes = [...bench.modes.keys()].filter((mode) => entry.modes.has(mode));
      const intervals = sharedModes.map((mode) => interval(bench.modes.get(mode)!, entry.modes.get(mode)!));
      return { entry, sharedModes, distanceCents: rootMeanSquare(intervals) };
    })
    .filter((neighbour) => neighbour.sharedModes.length >= leastShared)
    .toSorted((a, b) => a.distanceCents.value - b.distanceCents.value);
}

function interval(a: Estimate, b: Estimate): Estimate {
  const sigma = (1200 / Math.LN2) * Math.hypot(a.sigma / a.value, b.sigma / b.value);
  return { value: centsBetween(a.value, b.value), sigma };
}

/** Where all are zero the slope is undefined, and the sigma of a single one is the honest bound. */
function rootMeanSquare(values: readonly Estimate[]): Estimate {
  const n = Math.max(1, values.length);
  const value = Math.sqrt(values.reduce((sum, one) => sum + one.value ** 2, 0) / n);
  if (value === 0) return { value, sigma: Math.max(0, ...values.map((one) => one.sigma)) };
  return { value, sigma: Math.hypot(...values.map((one) => (one.value / (n * value)) * one.sigma)) };
}
