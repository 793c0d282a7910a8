// A new top for an old box: which box it was, up to which step its readings count, and what was wrong with it.

import { useEffect } from 'preact/hooks';
import type { EditName } from '../../app/edits.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { topDamages } from '../../record/box-part.ts';
import { withField } from '../../record/edit.ts';
import { Card } from '../parts/card.tsx';
import { CheckField, ChoiceField } from '../parts/choice-field.tsx';
import { moment } from '../parts/figures.ts';
import { useStepName } from '../parts/step-name.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { DamageMarks } from './damage-marks.tsx';
import { Matching } from './new-wood.tsx';
import { type BoxPartProps, useBoxEdit } from './part.ts';
import { boxWords } from './words.ts';

export function BoxNewTop({ record }: BoxPartProps) {
  const { earlier } = useWorkshop();
  const editRecord = useEditRecord();
  const { newTop: t, choose } = boxWords();
  const edit = useBoxEdit();
  const stepName = useStepName();
  useEffect(() => {
    void earlier.load();
  }, [record.id]);
  const all = [record, ...(earlier.records.value ?? [])];
  const repair = record.box?.repair;
  const old = repair === undefined ? undefined : all.find(({ id }) => id === repair.recordId);
  const link = (recordId: string) => {
    const chosen = all.find(({ id }) => id === recordId);
    const stepId = chosen?.steps.at(-1)?.id;
    if (stepId === undefined) return;
    edit('old-instrument', (box) => ({
      ...box,
      repair: { topDamage: [], oldWood: {}, newWood: {}, matchBy: 'both', ...box.repair, recordId, stepId },
    }));
  };
  const change = (editName: EditName, make: (known: BoxRepair) => BoxRepair) =>
    editRecord(editName, (current) =>
      current.box?.repair === undefined
        ? current
        : { ...current, box: { ...current.box, repair: make(current.box.repair) } },
    );
  const linkable = all.filter(({ steps }) => steps.length > 0);
  return (
    <>
      <h1 class="no-print">{t.title}</h1>
      <Card title={t.wish} class="no-print">
        {linkable.length === 0 ? (
          <p>{t.noneYet}</p>
        ) : (
          <div class="fields">
            <ChoiceField
              label={t.old}
              value={repair?.recordId ?? ''}
              options={[
                ['', choose],
                ...linkable.map(({ id, name }) => [id, id === record.id ? t.thisOne(name) : name] as const),
              ]}
              onChange={link}
            />
            {repair !== undefined && old !== undefined && (
              <ChoiceField
                label={t.lastStep}
                value={repair.stepId}
                options={old.steps.map(
                  (step, i) => [step.id, t.step(i + 1, stepName(old, step), moment(step.atIso))] as const,
                )}
                onChange={(stepId) => change('step-before', (known) => ({ ...known, stepId }))}
              />
            )}
          </div>
        )}
        {repair !== undefined && old === undefined && earlier.records.value !== undefined && (
          <p class="stop">{t.gone}</p>
        )}
        {repair !== undefined && (
          <>
            <Damage repair={repair} onChange={(make) => change('damage', make)} />
            <DamageMarks record={old ?? record} repair={repair} onChange={(make) => change('damage', make)} />
          </>
        )}
      </Card>
      {repair !== undefined && old !== undefined && (
        <Matching record={record} old={old} repair={repair} change={change} />
      )}
    </>
  );
}

function Damage(props: {
  readonly repair: BoxRepair;
  readonly onChange: (make: (known: BoxRepair) => BoxRepair) => void;
}) {
  const { repair } = props;
  const t = boxWords().newTop;
  const set = (key: 'topDamage' | 'backDamage', sound: 'isTopSound' | 'isBackSound', legend: string) => {
    const marked = repair[key] ?? [];
    return (
      <fieldset>
        <legend>{legend}</legend>
        <div class="fields">
          <CheckField
            label={t.soundPart}
            value={repair[sound] === true}
            onChange={(on) =>
              props.onChange((known) => withField(on ? { ...known, [key]: [] } : known, sound, on ? true : undefined))
            }
          />
          {topDamages.map((damage) => (
            <CheckField
              key={damage}
              label={t.damages[damage]}
              value={marked.includes(damage)}
              onChange={(on) =>
                props.onChange((known) => ({
                  ...withField(known, sound, undefined),
                  [key]: on ? [...marked, damage] : marked.filter((one) => one !== damage),
                }))
              }
            />
          ))}
        </div>
      </fieldset>
    );
  };
  return (
    <>
      <p class="hint">{t.damageHint}</p>
      {set('topDamage', 'isTopSound', t.topWas)}
      {set('backDamage', 'isBackSound', t.backWas)}
    </>
  );
}
