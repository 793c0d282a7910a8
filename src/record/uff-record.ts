// A record's taps as a universal file: every tap as a time history, every round as its averaged spectrum where one is
// given, and mode shapes where they are computed from a plan or mapped.
import type { PowerSpectrum } from '../signal/average-spectrum.ts';
import type { Tap } from '../signal/tap.ts';
import type { InstrumentRecord, Round, Step, TapNote } from './record.ts';
import { type UffAxis, type UffDataset, type UffFunction, type UffNode, unusedAxis } from './uff-dataset.ts';
import { uffTime } from './uff-field.ts';

/** Mode shapes at points of the plate: computed from its plan, or mapped by tapping. */
export interface PointShapes {
  readonly origin: 'plan' | 'taps';
  /** m; numbered from `firstShapeNode` on, so that none has the number of a spot */
  readonly points: readonly UffNode[];
  readonly modes: readonly {
    readonly name: string;
    readonly frequencyHz: number;
    /** undefined where it is not known, as in a shape that was computed */
    readonly q: number | undefined;
    /** movement out of the plate at each point, in the order of `points` */
    readonly z: ArrayLike<number>;
  }[];
}

/** Number of the first point of a shape. */
export const firstShapeNode = 1001;

const general = 1;
const timeResponse = 1;
const autoSpectrum = 2;
/** The microphone hears from all sides; the finger pushes the plate away, against z. */
const scalar = 0;
const intoTheFace = -3;
const axis = (quantity: number, label: string, unit: string): UffAxis => ({ ...unusedAxis, quantity, label, unit });
const timeAxis = axis(17, 'Time', 's');
const frequencyAxis = axis(18, 'Frequency', 'Hz');
// Not calibrated in pascal: a general quantity in parts of full scale.
const soundAxis = axis(general, 'Microphone', 'FS');
const powerAxis = axis(general, 'Microphone', 'FS^2');

/**
 * The datasets of a record, for `writeUff`: header, SI units, tap points and shapes where there are any, time histories
 * (type 1) and averaged power spectra (type 2). No frequency response and no coherence: no force was measured. Each spot
 * has a node number of its own from 2 on, in the order first tapped; the microphone is node 1.
 * @param taps    sounds by the id of their tap; taps without one are left out
 * @param spectra averaged spectra by the id of their round
 * @param shapes  tap points are numbered as given there
 */
export function recordToUff(
  record: InstrumentRecord,
  taps: ReadonlyMap<string, Tap>,
  spectra: ReadonlyMap<string, PowerSpectrum> = new Map(),
  shapes?: PointShapes,
): readonly UffDataset[] {
  const writtenAt = uffTime(record.steps.at(-1)?.atIso ?? record.createdAtIso);
  const functions: UffFunction[] = [];
  const spots = new Map<string, number>();
  record.steps.forEach((step, s) => {
    step.rounds.forEach((round, r) => {
      const nodeOf = (spot: string): number => {
        const node = spots.get(spot) ?? spots.size + microphoneNode + 1;
        spots.set(spot, node);
        return node;
      };
      const at = { record, step, round, where: `step ${s + 1} round ${r + 1}`, node: nodeOf(round.spot) };
      round.taps.forEach((note, t) => {
        const tap = taps.get(note.id);
        if (tap === undefined) return;
        const spot = note.rovingSpot === undefined ? round.spot : `${round.spot} ${note.rovingSpot + 1}`;
        const there = { ...at, round: { ...round, spot }, node: nodeOf(spot) };
        functions.push(timeHistory(there, t + 1, note, tap, functions.length + 1));
      });
      const spectrum = spectra.get(round.id);
      if (spectrum !== undefined) functions.push(averagedSpectrum(at, spectrum, functions.length + 1));
    });
  });
  return [
    {
      kind: 'header',
      model: record.name,
      description: record.model,
      program: 'Platewright',
      createdAt: uffTime(record.createdAtIso),
      savedAt: writtenAt,
      writtenAt,
    },
    {
      kind: 'units',
      code: 1,
      description: 'SI',
      temperatureMode: 2,
      lengthFactor: 1,
      forceFactor: 1,
      temperatureFactor: 1,
      temperatureOffset: 273.15,
    },
    ...(shapes === undefined ? [] : [{ kind: 'nodes', nodes: shapes.points } as const, ...shapesOf(shapes, writtenAt)]),
    ...functions,
  ];
}

const microphoneNode = 1;
/** Leaves the spot half of its line of 80. */
const longestId = 40;

interface Place {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly round: Round;
  readonly where: string;
  readonly node: number;
}

function atPlace(
  at: Place,
  what: string,
  atIso: string,
  tapId?: string,
): Pick<UffFunction, 'kind' | 'lines' | 'version' | 'loadCase' | 'response' | 'reference' | 'zValue'> {
  const { support, spot } = at.round;
  return {
    kind: 'function',
    lines: [
      what,
      `${at.record.name}, ${at.step.done}`,
      uffTime(atIso),
      tapId === undefined || tapId.length > longestId ? `spot ${spot}` : `tap ${tapId}, spot ${spot}`,
      `hold ${support.hold}, bridge ${support.bridge}, ${support.strung ? 'strung' : 'unstrung'}`,
    ],
    version: 1,
    loadCase: 0,
    response: { entity: 'NONE', node: microphoneNode, direction: scalar },
    reference: { entity: 'NONE', node: at.node, direction: intoTheFace },
    zValue: 0,
  };
}

/** Time zero is the first contact, so that the room before it has negative times. */
function timeHistory(at: Place, number: number, note: TapNote, tap: Tap, functionId: number): UffFunction {
  const increment = 1 / tap.sampleRateHz;
  return {
    ...atPlace(at, `Tap time history, ${at.where} tap ${number}, hold number ${note.hold + 1}`, note.atIso, note.id),
    functionType: timeResponse,
    functionId,
    ordinateKind: 'real-single',
    abscissa: { kind: 'even', first: -tap.onsetIndex * increment, increment },
    axes: [timeAxis, soundAxis, unusedAxis, unusedAxis],
    values: Float64Array.from(tap.samples),
  };
}

function averagedSpectrum(at: Place, spectrum: PowerSpectrum, functionId: number): UffFunction {
  return {
    ...atPlace(at, `Averaged power spectrum, ${at.where}`, at.round.atIso),
    functionType: autoSpectrum,
    functionId,
    ordinateKind: 'real-single',
    abscissa: { kind: 'even', first: spectrum.firstHz, increment: spectrum.stepHz },
    axes: [frequencyAxis, powerAxis, unusedAxis, unusedAxis],
    values: spectrum.power,
  };
}

const originWords: Readonly<Record<PointShapes['origin'], string>> = {
  plan: 'Movement out of the plate, computed from the plan, not measured',
  taps: 'Movement out of the plate, from taps',
};

function shapesOf(shapes: PointShapes, writtenAt: string): readonly UffDataset[] {
  return shapes.modes.map((mode, k) => ({
    kind: 'shape',
    lines: [`Mode ${k + 1}, ${mode.name}`, 'NONE', writtenAt, originWords[shapes.origin], 'NONE'],
    loadCase: 1,
    mode: k + 1,
    frequencyHz: mode.frequencyHz,
    modalMass: 0,
    dampingRatio: mode.q === undefined ? 0 : 1 / (2 * mode.q),
    hystereticRatio: 0,
    nodes: shapes.points.map(({ node }, i) => ({ node, x: 0, y: 0, z: mode.z[i] ?? 0 })),
  }));
}
