// The demo's records, from its story and the taps that were heard in its files.
import { type InstrumentRecord, newRecord, type Piece, type Round, type Step, type Support } from '../record/record.ts';
import { type DemoReadings, demoBoardRounds, demoPieces } from './demo-board.ts';
import { demoBoxRounds, demoGuitar, demoGuitarBraced } from './demo-guitar.ts';
import { demoPlan, recordedCut } from './demo-plan.ts';
import { type DemoRound, demoChecks, demoName, demoSteps, demoStickName, demoTarget } from './demo-steps.ts';
import { demoTapId } from './demo-tap-id.ts';
import type { HeardRound } from './demo-taps.ts';

/** What was heard in the file of a round, by the name of the file. */
export type HeardRounds = ReadonlyMap<string, HeardRound>;

/** Day on which the story begins: the first measurement of the plate. */
const beginIso = '2026-03-09T08:25:00.000Z';
const at = (minutes: number): string => new Date(Date.parse(beginIso) + minutes * 60_000).toISOString();

/** When its wood was tapped and read. */
export const woodIso = at(-1440);

const free: Support = { hold: 'at-node', bridge: 'off', strung: false };
const source = 'invented, made by the demo generator';

function roundOf(round: DemoRound, support: Support, atIso: string, heard: HeardRounds): Round {
  const { taps, fit, sampleRateHz } = heard.get(round.file) ?? { taps: [], fit: undefined, sampleRateHz: 0 };
  return {
    id: `demo-round-${round.file}`,
    atIso,
    support,
    spot: round.spot,
    source,
    state: round.setAside ? 'set-aside' : 'closed',
    ...(round.wanted === undefined ? {} : { wanted: round.wanted }),
    taps: taps.map((tap) => ({
      id: demoTapId(round.file, tap),
      hold: tap.hold,
      aboveRoomDb: tap.aboveRoomDb,
      sampleRateHz,
      atIso,
    })),
    ...(fit === undefined ? {} : { fit }),
  };
}

/** The wood of the demo's instrument, tapped the day before the story begins. */
export const demoWood = (heard: HeardRounds, readings: DemoReadings = {}): readonly Piece[] =>
  demoPieces(
    demoBoardRounds.map((round) => roundOf(round, free, woodIso, heard)),
    readings,
  );

/** The instrument of the demo. @param readings what was kept of its wood */
export function demoInstrument(heard: HeardRounds, readings: DemoReadings = {}): InstrumentRecord {
  const plan = demoPlan();
  const steps = demoSteps.map((step, i): Step => {
    const atIso = at(step.minutes);
    return {
      id: `demo-step-${i + 1}`,
      atIso,
      stage: step.stage,
      done: step.done,
      cuts: step.cut === undefined ? [] : [recordedCut(plan, `demo-cut-${i + 1}`, step.cut)],
      massG: step.massG,
      climate: {
        humidityPercent: step.humidityPercent,
        tempC: step.tempC,
        hygrometer: 'wall',
        hygrometerOffsetPercent: -3,
      },
      heard: step.heard,
      rounds: step.rounds.map((round) => roundOf(round, step.support, atIso, heard)),
      ...(i < 2
        ? {}
        : { trust: { recordId: 'demo-stick', stepId: `demo-check-${demoChecks.length}`, verdict: 'go' as const } }),
    };
  });
  const first = steps[2];
  const pin = (mode: string, nearHz: number) => {
    const heardModes = first?.rounds[0]?.fit?.modes ?? [];
    const nearest = heardModes.toSorted(
      (a, b) => Math.abs(a.frequencyHz.value - nearHz) - Math.abs(b.frequencyHz.value - nearHz),
    )[0];
    return nearest === undefined || first === undefined
      ? []
      : [{ id: `demo-pin-${mode.replace(' ', '-')}`, stepId: first.id, mode, frequencyHz: nearest.frequencyHz.value }];
  };
  return {
    ...newRecord({
      id: 'demo-instrument',
      createdAtIso: at(0),
      name: demoName,
      model: 'Small concert, X brace',
      hand: 'left',
    }),
    notes:
      'An invented instrument to try everything with. Its taps were made by the program from the truth in reference-audio/demo. No real maker, person or instrument is meant.',
    steps,
    targets: [{ id: 'demo-target', stage: 'braced', origin: "the maker's last three of this model", ...demoTarget }],
    pins: [...pin('monopole', 193.2), ...pin('cross dipole', 430.6), ...pin('long dipole', 401.1)],
    pieces: [...demoWood(heard, readings)],
    plan,
  };
}

/** The guitar that was finished before. */
export const demoFinishedGuitar = (heard: HeardRounds): InstrumentRecord =>
  demoGuitar((round, support, atIso) => roundOf(round, support, atIso, heard));

/** The reference stick of the demo. */
export function demoStick(heard: HeardRounds): InstrumentRecord {
  return {
    ...newRecord({
      id: 'demo-stick',
      createdAtIso: at(demoChecks[0]?.minutes ?? 0),
      name: demoStickName,
      kind: 'reference-stick',
    }),
    notes: 'A dry stick of spruce that is kept for nothing else (invented).',
    steps: demoChecks.map(
      (check, i): Step => ({
        id: `demo-check-${i + 1}`,
        atIso: at(check.minutes),
        stage: 'board',
        done: 'Morning check',
        cuts: [],
        climate: { humidityPercent: check.humidityPercent, tempC: 20 },
        heard: '',
        rounds: [roundOf(check.round, free, at(check.minutes), heard)],
      }),
    ),
  };
}

/** Every round of the demo, in the order of its files. */
export const demoRounds: readonly DemoRound[] = [
  ...demoSteps.flatMap((step) => step.rounds),
  ...demoChecks.map((check) => check.round),
  ...demoBoardRounds,
  demoGuitarBraced,
  ...demoBoxRounds,
];
