// What the worker can be asked for. One request at a time; the answer to a request has the type its kind says.
import type { DemoRound } from '../demo/demo-steps.ts';
import type { TapCut } from '../demo/demo-taps.ts';
import type { Parameter } from '../forecast/properties.ts';
import type { StagePlates, StageShapesAnswer } from '../forecast/stage-shapes.ts';
import type { StrungAnswer, StrungTop } from '../forecast/strung.ts';
import type { TapShapesAnswer, TapShapesQuestion } from '../forecast/tap-shapes.ts';
import type { AdviceQuestion, TopAdvice } from '../forecast/top-advice.ts';
import type { MeasuredStep, TopAgreementAnswer } from '../forecast/top-agreement.ts';
import type { TopModesAnswer, TopQuestion } from '../forecast/top-modes.ts';
import type { TopShapes } from '../forecast/top-shapes.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import type { Bundle, KeptAsIs } from '../record/archive.ts';
import type { FileResult } from '../record/incoming-file.ts';
import type { ImportedOutline } from '../record/plan-import.ts';
import type { PowerSpectrum } from '../signal/average-spectrum.ts';
import type { averageSpectrum } from '../signal/filter/spectrum.ts';
import type { RoundFit, Tap } from '../signal/tap.ts';
import type { RoomPole } from '../signal/tell/room-poles.ts';
import type { BoardReading, BoardTaps } from '../wood/board-constants.ts';
import type { BoardElastic, BoardSize } from '../wood/board-energy.ts';
import type { ElasticStart, ShearRatios } from '../wood/elastic-start.ts';
import type { HoldGuide } from '../wood/hold-guide.ts';
import type { MeasuredBoard, TappedMode } from '../wood/measured-board.ts';
import type { PeakReading } from '../wood/peak-assignment.ts';
import type { MeasuredWood, Patch, ThicknessPoint } from '../wood/thickness.ts';

export type AveragedSpectrum = ReturnType<typeof averageSpectrum>;

/** Requests and what each is answered with. */
export interface Work {
  /** readings for the compiler's sake, see warm-up.ts */
  'warm-up': { readonly ask: null; readonly answer: null };
  'fit-round': {
    readonly ask: {
      readonly holds: readonly (readonly Tap[])[];
      readonly roomPoles?: readonly RoomPole[];
      readonly countsEveryHold?: boolean | undefined;
    };
    readonly answer: RoundFit;
  };
  'room-poles': { readonly ask: { readonly clap: Tap }; readonly answer: readonly RoomPole[] };
  'average-spectrum': { readonly ask: { readonly taps: readonly Tap[] }; readonly answer: AveragedSpectrum };
  'read-board': {
    readonly ask: { readonly given: BoardTaps; readonly start: ElasticStart };
    readonly answer: BoardReading;
  };
  'name-peaks': {
    readonly ask: {
      readonly board: MeasuredBoard;
      readonly heard: readonly TappedMode[];
      readonly start: ElasticStart;
    };
    readonly answer: PeakReading;
  };
  'hold-guides': {
    readonly ask: { readonly size: BoardSize; readonly elastic: BoardElastic; readonly densityKgM3: number };
    readonly answer: readonly HoldGuide[];
  };
  'modes-against-thickness': {
    readonly ask: {
      readonly plan: Patch;
      readonly wood: MeasuredWood;
      readonly thicknessesMm: readonly number[];
      readonly shearRatios: ShearRatios | undefined;
    };
    readonly answer: readonly ThicknessPoint[];
  };
  'top-modes': {
    readonly ask: TopQuestion;
    readonly answer: TopModesAnswer;
  };
  'top-strung': { readonly ask: StrungTop; readonly answer: StrungAnswer | null };
  'top-shapes': {
    readonly ask: { readonly plate: PlateCase; readonly count: number };
    readonly answer: TopShapes | { readonly kind: 'unsolvable' };
  };
  'stage-shapes': { readonly ask: StagePlates; readonly answer: StageShapesAnswer };
  'average-power-spectrum': { readonly ask: { readonly taps: readonly Tap[] }; readonly answer: PowerSpectrum };
  'top-agreement': {
    readonly ask: { readonly steps: readonly MeasuredStep[]; readonly parameters: readonly Parameter[] };
    readonly answer: TopAgreementAnswer;
  };
  'read-file': {
    readonly ask: { readonly bytes: Uint8Array; readonly name: string; readonly atIso: string };
    readonly answer: FileResult;
  };
  'read-outline': {
    readonly ask: { readonly name: string; readonly text: string };
    readonly answer: ImportedOutline;
  };
  'write-archive': {
    readonly ask: { readonly bundles: readonly Bundle[]; readonly kept: readonly KeptAsIs[] };
    readonly answer: Uint8Array;
  };
  'write-texts': { readonly ask: { readonly texts: ReadonlyMap<string, string> }; readonly answer: Uint8Array };
  'demo-taps': {
    readonly ask: { readonly round: DemoRound; readonly cuts: readonly TapCut[] };
    readonly answer: readonly Tap[];
  };
  'tap-shapes': { readonly ask: TapShapesQuestion; readonly answer: TapShapesAnswer };
  'top-advice': { readonly ask: AdviceQuestion; readonly answer: TopAdvice };
}

export type WorkKind = keyof Work;

/** One request as it crosses to the worker. */
export type Request = { readonly [K in WorkKind]: { readonly kind: K; readonly ask: Work[K]['ask'] } }[WorkKind];

/** What comes back. */
export type Reply =
  | { readonly kind: 'progress'; readonly fraction: number }
  | { readonly kind: 'answer'; readonly answer: Work[WorkKind]['answer'] }
  | { readonly kind: 'failed'; readonly message: string };
