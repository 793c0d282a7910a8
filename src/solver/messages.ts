// What the worker can be asked for. One request at a time; the answer to a request has the type its kind says.
import type { Parameter } from '../forecast/calibration.ts';
import type { AdviceQuestion, TopAdvice } from '../forecast/top-advice.ts';
import type { MeasuredStep, TopAgreementAnswer } from '../forecast/top-agreement.ts';
import type { StrungTop, TopModesAnswer } from '../forecast/top-modes.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import type { averageSpectrum } from '../signal/spectrum.ts';
import type { RoundFit, Tap } from '../signal/tap.ts';

export type AveragedSpectrum = ReturnType<typeof averageSpectrum>;

/** Requests and what each is answered with. */
export interface Work {
  'fit-round': { readonly ask: { readonly holds: readonly (readonly Tap[])[] }; readonly answer: RoundFit };
  'average-spectrum': { readonly ask: { readonly taps: readonly Tap[] }; readonly answer: AveragedSpectrum };
  'top-modes': {
    readonly ask: { readonly plate: PlateCase; readonly strung?: StrungTop };
    readonly answer: TopModesAnswer;
  };
  'top-agreement': {
    readonly ask: { readonly steps: readonly MeasuredStep[]; readonly parameters: readonly Parameter[] };
    readonly answer: TopAgreementAnswer;
  };
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
