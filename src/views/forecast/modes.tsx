// The modes of the plan as it is held, and the shape of the one that is chosen.
import { useMemo, useState } from 'preact/hooks';
import type { Series } from '../../compare/series.ts';
import { type MeasuredPair, pairMeasured } from '../../forecast/measured-match.ts';
import { computedModes, measuredSteps } from '../../forecast/plan-question.ts';
import type { TopModes, TopQuestion } from '../../forecast/top-modes.ts';
import type { StretchSensitivity } from '../../plate/sensitivity.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { useMassEstimate, useRateDepth } from '../parts/own-units.ts';
import type { Face } from '../plan/face.ts';
import { FaceSwitch } from '../plan/face-switch.tsx';
import { PlanDrawing } from '../plan/plan-drawing.tsx';
import { woodSourceWords } from '../plan/words.ts';
import { SensitivityCard, SensitivityScale, SensitivityTable } from './sensitivity.tsx';
import { ModePicture, Places, ShapeOnPlan } from './shape.tsx';
import { UnderTheStrings } from './strung.tsx';
import { forecastWords } from './words.ts';

/** A top in the hand is pinched where the mode is at rest; one that its rim carries is not. */
const isHeldAtNodes = ({ support }: Series): boolean => support.hold === 'at-node' || support.hold === 'on-foam';

/** Which tapped mode a computed one is, and how sure that is. */
const tappedWords = (by: MeasuredPair['by'], hz: Estimate): string =>
  (by === 'frequency' ? forecastWords().perhapsTapped : forecastWords().tapped)(withHalfWidth(hz, 'Hz'));

export function ComputedModes(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
  readonly question: TopQuestion;
  readonly answer: TopModes;
  readonly face: Face;
  readonly onFace: (face: Face) => void;
}) {
  const { record, plan, question, answer, face } = props;
  const t = forecastWords();
  const mass = useMassEstimate();
  const depth = useRateDepth();
  const braceIds = (question.plate.braces ?? []).map(({ id }) => id);
  const [chosen, setChosen] = useState(0);
  const [what, setWhat] = useState<'shape' | 'per-mm' | 'per-g'>('shape');
  const rank = Math.min(chosen, answer.modes.length - 1);
  const mode = answer.modes[rank];
  const { tapped, pairs } = useMemo(() => {
    const tapped = measuredSteps(record, plan, props.conditions).at(-1)?.modes ?? [];
    const pairs = pairMeasured(
      computedModes(answer, question),
      tapped.map((heard) => ({ ...heard, frequencyHz: heard.frequencyHz.value })),
    );
    return { tapped, pairs };
  }, [record, plan, props.conditions, answer, question]);
  if (mode === undefined) return null;
  const per = what === 'per-g' ? 'g' : 'mm';
  const isFree = isHeldAtNodes(props.conditions);
  const stretches: readonly StretchSensitivity[] = answer.sensitivity;
  return (
    <section class="plan-columns" aria-label={t.modes}>
      <div class="plan-sheet">
        <FaceSwitch face={face} onChange={props.onFace} />
        <PlanDrawing plan={plan} hand={record.hand} face={face} showBridge={props.conditions.support.bridge !== 'off'}>
          {what === 'shape' ? (
            <ShapeOnPlan key={rank} mode={mode} face={face} isFree={isFree} />
          ) : (
            <SensitivityCard
              plan={plan}
              hand={record.hand}
              face={face}
              stretches={stretches}
              braceIds={braceIds}
              mode={rank}
              per={per}
            />
          )}
        </PlanDrawing>
        {what === 'shape' ? (
          <Places mode={mode} isFree={isFree} />
        ) : (
          <SensitivityScale stretches={stretches} mode={rank} per={per} />
        )}
      </div>
      <div class="plan-forms">
        <ol class="forecast-modes">
          {answer.modes.map((shown, i) => {
            const pair = pairs.find(({ computed }) => computed === i);
            return (
              <li key={i}>
                <Button
                  text={
                    <>
                      <ModePicture mode={shown} outline={question.plate.outline} face={face} />
                      <span class="forecast-hz">{withHalfWidth(shown.frequencyHz, 'Hz')}</span>
                      <span>
                        {shown.name}
                        {pair !== undefined && (
                          <span class="hint"> {tappedWords(pair.by, tapped[pair.measured]!.frequencyHz)}</span>
                        )}
                      </span>
                    </>
                  }
                  isChosen={i === rank}
                  onPress={() => setChosen(i)}
                />
              </li>
            );
          })}
        </ol>
        {(answer.missed ?? 0) > 0 && <p class="caution">{t.missedModes(answer.missed!)}</p>}
        <p class="hint">
          {t.fromWoods(mass(answer.massG))}
          {question.plate.patches?.some(({ face }) => face === 'inside') && ` ${t.patchCut}`}
          <br />
          {t.plateWood(woodSourceWords(record, plan.wood))}
          <br />
          {t.braceWood(woodSourceWords(record, plan.braceWood))}
        </p>
        <ChoiceField
          label={t.onDrawing}
          value={what}
          options={choices({
            ...t.drawn,
            'per-mm': t.drawn['per-mm'](depth.said),
            ...(isFree ? { shape: t.shapeOfFree } : {}),
          })}
          onChange={setWhat}
        />
        {what !== 'shape' && (
          <SensitivityTable plan={plan} hand={record.hand} stretches={stretches} braceIds={braceIds} mode={rank} />
        )}
        <UnderTheStrings record={record} plan={plan} support={props.conditions.support} />
      </div>
    </section>
  );
}
