// What is asked of the worker about a top as it stands: how the drawing and the bench agree, and what to shave next. The
// forecast and the view of the next pass ask the very same, so that each is answered once.
import { useMemo } from 'preact/hooks';
import type { Series } from '../../compare/series.ts';
import { adviceQuestion, fitParameters, measuredSteps } from '../../forecast/plan-question.ts';
import type { AdviceQuestion } from '../../forecast/top-advice.ts';
import type { TopAgreement } from '../../forecast/top-agreement.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { useWorkshop } from '../workshop-context.ts';
import { usePull } from './strung.tsx';

/** A question with the text that tells it from others. */
interface Keyed<T> {
  readonly question: T;
  readonly key: string;
}

const keyed = <T>(question: T): Keyed<T> => ({ question, key: JSON.stringify(question) });

/** Every step that was tapped so, held against the drawing as it then stood. */
export function useAgreementQuestion(record: InstrumentRecord, plan: Plan, conditions: Series) {
  return useMemo(
    () =>
      keyed({
        steps: measuredSteps(record, plan, conditions),
        parameters: fitParameters(plan, conditions.support),
      }),
    [record, plan, conditions],
  );
}

/** The agreement with the bench, where it is worked out. */
export function usePast(): TopAgreement | undefined {
  const asked = useWorkshop().forecasts.agreement.current.value;
  return asked.kind === 'ready' && asked.answer.kind === 'agreement' ? asked.answer : undefined;
}

/** What to shave next; undefined where the drawing cannot be computed or nothing was tapped so. */
export function useAdviceQuestion(
  record: InstrumentRecord,
  plan: Plan,
  conditions: Series,
): Keyed<AdviceQuestion> | undefined {
  const pull = usePull(record);
  const past = usePast();
  return useMemo(() => {
    const question = adviceQuestion(record, plan, conditions, pull, past);
    return question && keyed(question);
  }, [record, plan, conditions, pull, past]);
}
