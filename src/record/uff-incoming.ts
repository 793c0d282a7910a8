// A universal file as a record that can come in: its time histories are taps, those of one spot a round. Ids follow from
// what the file says, so that the same file taken in again adds nothing.
import { contactIndex } from '../signal/hear/onset.ts';
import { isTapRate, type Tap } from '../signal/tap.ts';
import type { Bundle } from './archive.ts';
import { crc32 } from './crc32.ts';
import { freshStep } from './edit.ts';
import { universalPrefix } from './incoming.ts';
import { type InstrumentRecord, newRecord, type Round, type Step } from './record.ts';
import { bridges, holds } from './round-part.ts';
import { isComplex, type UffDataset, type UffFunction, type UffHeader } from './uff-dataset.ts';
import { isoFromUffTime } from './uff-field.ts';
import { readUff, type SkippedDataset } from './uff-read.ts';

/** What a universal file holds, and what of it a record has a place for: its taps. */
export interface UffContent {
  readonly taps: number;
  /** taps that stand in the file twice */
  readonly repeated: number;
  readonly spectra: number;
  readonly shapes: number;
  readonly points: number;
  /** functions that are no tap: complex, uneven, of other kinds, of a rate no microphone has, or too short */
  readonly others: number;
  /** ids that taps bear where they were written by this program, so that they are known again */
  readonly ownTapIds: readonly string[];
  readonly skipped: readonly SkippedDataset[];
}

/** What a universal file gives. */
export interface UffIncoming {
  /** undefined where it holds no tap */
  readonly bundle: Bundle | undefined;
  readonly content: UffContent;
}

const program = 'Platewright';
const timeResponse = 1;
const autoSpectrum = 2;
/** A tenth of a second: less holds no decay of a plate. */
const shortestS = 0.1;

/** Whether a text begins as universal files do. */
export const looksUniversal = (text: string): boolean => /^\s*-1[ \t]*\r?\n?$/m.test(text.slice(0, 400));

/**
 * The record a universal file makes.
 * @param fileName stands in the record's name where the file names nothing, and in the rounds' source
 * @param atIso    time of what carries none
 */
export function recordFromUff(text: string, fileName: string, atIso: string): UffIncoming {
  const { datasets, skipped } = readUff(text);
  const functions = datasets.filter((dataset) => dataset.kind === 'function');
  const heard = functions.flatMap((given) => {
    const tap = tapOf(given);
    return tap === undefined ? [] : [{ given, tap, sum: checksum(tap) }];
  });
  const spectra = functions.filter(({ functionType }) => functionType === autoSpectrum).length;
  const record = heard.length === 0 ? undefined : recordOf(datasets, heard, fileName, atIso);
  const taps = new Map<string, Tap>();
  if (record !== undefined) for (const { sum, tap } of heard) taps.set(tapId(record.id, sum), tap);
  const pointSets = datasets.filter((dataset) => dataset.kind === 'nodes');
  return {
    bundle: record && { record, taps, photos: new Map() },
    content: {
      taps: taps.size,
      repeated: heard.length - taps.size,
      spectra,
      shapes: datasets.filter(({ kind }) => kind === 'shape').length,
      points: pointSets.reduce((sum, { nodes }) => sum + nodes.length, 0),
      others: functions.length - heard.length - spectra,
      ownTapIds: isOurs(headerOf(datasets)) ? heard.flatMap(({ given }) => ownTap(given).id ?? []) : [],
      skipped,
    },
  };
}

interface HeardFunction {
  readonly given: UffFunction;
  readonly tap: Tap;
  readonly sum: string;
}

/** A time history as a tap; the format keeps six digits of the interval, so that the rate is found by rounding. */
function tapOf(given: UffFunction): Tap | undefined {
  const { abscissa, values } = given;
  if (given.functionType !== timeResponse || abscissa.kind !== 'even' || isComplex(given.ordinateKind))
    return undefined;
  const sampleRateHz = Math.round(1 / abscissa.increment);
  if (!isTapRate(sampleRateHz) || values.length < shortestS * sampleRateHz) return undefined;
  const loudest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (loudest === 0) return undefined;
  // Pascal or volt have no full scale: the loudest sample is put there.
  const scale = loudest > 1 ? 1 / loudest : 1;
  const samples = Float32Array.from(values, (value) => value * scale);
  const before = Math.round(-abscissa.first / abscissa.increment);
  if (before > 0 && before < samples.length) return { samples, sampleRateHz, onsetIndex: before };
  const coarse = samples.findIndex((sample) => Math.abs(sample) > 0.25 * loudest * scale);
  return { samples, sampleRateHz, onsetIndex: contactIndex(samples, sampleRateHz, coarse) };
}

const hex = (bytes: Uint8Array): string => crc32(bytes).toString(16).padStart(8, '0');
/** Two sums of the same bytes, forwards and backwards: as good as one of 64 bits. */
const checksumOfBytes = (bytes: Uint8Array): string => hex(bytes) + hex(bytes.slice().reverse());
const checksum = ({ samples }: Tap): string =>
  checksumOfBytes(new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength));
const checksumOfText = (text: string): string =>
  checksumOfBytes(Uint8Array.from(text, (character) => character.charCodeAt(0) & 0xff));
const tapId = (recordId: string, sum: string): string => `${recordId}-${sum}`;

function recordOf(
  datasets: readonly UffDataset[],
  heard: readonly HeardFunction[],
  fileName: string,
  atIso: string,
): InstrumentRecord {
  const header = headerOf(datasets);
  const ours = isOurs(header);
  // Two of our files of one instrument belong together; of other programs only what is the same sound does.
  const identity = ours ? `${header.model} ${header.createdAt}` : heard.map(({ sum }) => sum).join(' ');
  const id = `${universalPrefix}${checksumOfText(identity)}`;
  const createdAtIso = isoFromUffTime(header?.createdAt ?? '') ?? atIso;
  const named = header?.model ?? '';
  const name = named === '' || named === 'NONE' ? fileName.slice(0, 200) : named;
  const steps = new Map<string, { step: Step; rounds: Map<string, Round> }>();
  for (const { given, tap, sum } of heard) {
    const place = ours
      ? ourPlace(given, header.model)
      : { step: '1', round: `${given.reference.node}`, done: '', hold: 0 };
    const timeIso = isoFromUffTime(given.lines[2]) ?? createdAtIso;
    const known = steps.get(place.step) ?? {
      step: { ...freshStep(`${id}-step-${place.step}`, timeIso, undefined), done: place.done },
      rounds: new Map<string, Round>(),
    };
    steps.set(place.step, known);
    const key = `${place.round}-${tap.sampleRateHz}`;
    const spot = ours ? ownTap(given).spot : `point ${given.reference.node}`;
    const rovingSpot = ours ? rovingSpotIn(spot) : undefined;
    const round = known.rounds.get(key) ?? {
      id: `${id}-step-${place.step}-round-${key}`,
      atIso: timeIso,
      support: supportOf(ours ? given.lines[4] : ''),
      spot: rovingSpot === undefined ? spot : 'roving',
      source: fileName.slice(0, 400),
      state: 'closed' as const,
      taps: [],
    };
    const note = {
      id: tapId(id, sum),
      atIso: timeIso,
      sampleRateHz: tap.sampleRateHz,
      aboveRoomDb: aboveRoomDb(tap),
      hold: place.hold,
      ...(rovingSpot !== undefined && { rovingSpot }),
    };
    const spots = rovingSpot === undefined ? undefined : withSpot(round.roving?.spots ?? [], rovingSpot);
    if (!round.taps.some((other) => other.id === note.id))
      known.rounds.set(key, {
        ...round,
        taps: [...round.taps, note],
        ...(spots !== undefined && { roving: { spots } }),
      });
  }
  return {
    ...newRecord({ id, createdAtIso, name, model: ours ? header.description : '' }),
    steps: [...steps.values()].map(({ step, rounds }) => ({ ...step, rounds: [...rounds.values()] })),
  };
}

/** Which spot of a roving round `recordToUff` wrote so, counted from 0; where it lies is not in the file. */
function rovingSpotIn(spot: string): number | undefined {
  const found = /^roving (\d{1,2})$/.exec(spot);
  return found === null || found[1] === '0' ? undefined : Number(found[1]) - 1;
}

const withSpot = (spots: readonly object[], spot: number): readonly object[] =>
  Array.from({ length: Math.max(spots.length, spot + 1) }, () => ({}));

const headerOf = (datasets: readonly UffDataset[]) => datasets.find((dataset) => dataset.kind === 'header');
const isOurs = (header: UffHeader | undefined): header is UffHeader => header?.program === program;

/** Where a tap stood in the record that `recordToUff` wrote. @param model the record's name as the header has it */
function ourPlace({ lines }: UffFunction, model: string) {
  const [, step = '1', round = '1'] = /step (\d{1,4}) round (\d{1,4})/.exec(lines[0]) ?? [];
  const [, hold = '1'] = /hold number (\d{1,3})/.exec(lines[0]) ?? [];
  const done = lines[1].startsWith(`${model}, `) ? lines[1].slice(model.length + 2) : '';
  return { step, round, done, hold: Math.max(0, Number(hold) - 1) };
}

/** What `recordToUff` wrote of a tap: its id, and where it was tapped. */
function ownTap({ lines, reference }: UffFunction): { readonly id: string | undefined; readonly spot: string } {
  const [, id, spot] = /^(?:tap ([^ ,]+), )?spot (.+)$/.exec(lines[3]) ?? [];
  return { id, spot: spot ?? `point ${reference.node}` };
}

function supportOf(line: string): Round['support'] {
  const [, hold, bridge, strung] = /^hold ([a-z-]+), bridge ([a-z]+), (strung|unstrung)$/.exec(line) ?? [];
  return {
    hold: holds.find((known) => known === hold) ?? 'at-node',
    bridge: bridges.find((known) => known === bridge) ?? 'off',
    strung: strung === 'strung',
  };
}

/** Loudest sample over the root mean square before the contact, dB; 0 where nothing was heard before. */
function aboveRoomDb({ samples, onsetIndex }: Tap): number {
  let squares = 0;
  for (let i = 0; i < onsetIndex; i++) squares += samples[i]! ** 2;
  const loudest = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  return squares > 0 ? 20 * Math.log10(loudest / Math.sqrt(squares / onsetIndex)) : 0;
}
