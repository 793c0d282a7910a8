// The rows of aims for the page: the drawn tops asked of the worker, the old box solved, the earlier instruments looked through.
import { useMemo } from 'preact/hooks';
import { newTopInBox } from '../../box/new-top-in-box.ts';
import type { ReplacementAim } from '../../box/replacement.ts';
import { type AimRow, aimRows, type DrawnModes, LOOSE_TOP } from '../../compare/aim-sources.ts';
import { readBox } from '../../compare/box-reading.ts';
import { damageOf, type OldMode, type TopMatch } from '../../compare/old-signature.ts';
import { aimBeforeStage } from '../../compare/stage-jumps.ts';
import { type LooseStage, oldAndNewQuestions } from '../../forecast/old-and-new-top.ts';
import type { TopQuestion } from '../../forecast/top-modes.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import type { ClimateNote, InstrumentRecord } from '../../record/record.ts';
import { useWorkshop } from '../workshop-context.ts';

export interface AimsProps {
  readonly record: InstrumentRecord;
  readonly old: InstrumentRecord;
  readonly repair: BoxRepair;
  readonly match: TopMatch & { readonly kind: 'match' };
  readonly readings: readonly OldMode[];
  /** in the order of the readings */
  readonly aims: readonly ReplacementAim[];
  /** air in which the new wood was read, where it was noted */
  readonly newAir: ClimateNote | undefined;
}

const stageNames = { braced: 'braced', rims: 'on-rims' } as const;

/** All aims, by stage; those of the drawings come in as the worker has them. */
export function useAimRows({ record, old, repair, match, readings, aims }: AimsProps): {
  readonly rows: readonly AimRow[];
  readonly isComputing: boolean;
} {
  const { earlier, forecasts } = useWorkshop();
  const step = old.steps.find(({ id }) => id === repair.stepId);
  const box = useMemo(() => {
    const reading = step && readBox(old, step);
    if (reading?.found?.kind !== 'solved') return undefined;
    const open = reading.rounds.find(({ state }) => state === 'open');
    const order = (open?.peaks ?? []).flatMap(({ label }) => (label === 'other' ? [] : [label]));
    const parts = reading.found.back === 'held' ? 2 : 3;
    if (order.length !== parts) return undefined;
    return newTopInBox(reading.found.joint, order, match.ratios, damageOf('top', repair));
  }, [old, step, repair, match.ratios]);
  const thicknessMm = match.chosenMm.value;
  const questions = useMemo(
    () => ({
      braced: oldAndNewQuestions(record, repair, thicknessMm, 'braced'),
      rims: oldAndNewQuestions(record, repair, thicknessMm, 'rims'),
    }),
    [record, repair, thicknessMm],
  );
  let isComputing = false;
  const modesOf = (question: TopQuestion | undefined): DrawnModes | undefined => {
    if (question === undefined) return undefined;
    const state = forecasts.tops.of('top-modes', question).value;
    if (state.kind === 'working') isComputing = true;
    return state.kind === 'answer' && state.answer.kind === 'modes' ? state.answer.modes : undefined;
  };
  const drawn = (stage: LooseStage) => {
    const [was, is] = [modesOf(questions[stage].old), modesOf(questions[stage].fresh)];
    return { ...(was && { old: was }), ...(is && { fresh: is }) };
  };
  const others = earlier.records.value ?? [];
  const rows = aimRows({
    readings,
    aims,
    ratios: match.ratios,
    drawn: { braced: drawn('braced'), rims: drawn('rims') },
    ...(box && { box, boxReadAt: step?.stage === 'strung' ? 'strung' : 'box' }),
    earlier: (stage, wishedHz) => {
      const change = { from: stageNames[stage], to: 'closed', nameBefore: LOOSE_TOP, nameAfter: 'top' } as const;
      return aimBeforeStage(others, change, wishedHz);
    },
  });
  return { rows, isComputing };
}
