// Shapes from taps: the round from spot to spot, and what such rounds tell. Fetched when it is first wanted.
import { rovingQuestion } from '../forecast/roving-question.ts';
import { namesOfShapes } from '../forecast/shape-names.ts';
import type { ShapeOfDrawing } from '../forecast/tap-shapes.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { rovingRounds } from '../record/roving-edit.ts';
import type { Tap } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import type { BenchPorts } from './bench.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';
import { Roving } from './roving.ts';
import { ShapeReadings } from './shape-readings.ts';
import type { Shelf } from './shelf.ts';

/** A shape is of the mode asked for when it lies this near, as a share: the same step, read from the same taps. */
const SAME_SHARE = 0.002;

export class Shapes {
  readonly roving: Roving;
  readonly readings: ShapeReadings;

  constructor(
    ports: BenchPorts,
    getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>,
    shelf: Shelf,
    solver: Solver,
    preferences: Preferences,
    notices: Notices,
  ) {
    this.roving = new Roving(ports, shelf, solver, preferences, notices);
    this.readings = new ShapeReadings(async (ids) => {
      const stored = await getTaps(ids);
      return ids.map((id, i) => stored[i] ?? this.roving.unstored(id));
    });
  }

  /**
   * The computed mode whose shape a mode of the last step has, as its last round from spot to spot tells it. Read while
   * rendering: it changes when the reading is there.
   */
  nameAt(record: InstrumentRecord, frequencyHz: number): ShapeOfDrawing | undefined {
    const step = record.steps.at(-1);
    const round = step && rovingRounds(step).at(-1);
    const question = step && round && rovingQuestion(record, step, round);
    const reading = question && this.readings.of(question).value;
    if (reading?.kind !== 'read' || reading.answer.kind !== 'shapes') return undefined;
    const { shapes } = reading.answer;
    const k = shapes.findIndex((shape) => Math.abs(shape.frequencyHz.value / frequencyHz - 1) < SAME_SHARE);
    return namesOfShapes(reading.answer)[k];
  }
}
