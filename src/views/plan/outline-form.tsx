// The outline of the top: a usual body or one that was drawn, and its sizes.
import { useState } from 'preact/hooks';
import { BODY_STATIONS } from '../../plate/body-outline.ts';
import { bodyFrom } from '../../record/plan-outline.ts';
import type { Plan } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { planWords } from './words.ts';

export type Edit = (change: (plan: Plan) => Plan) => void;

/** The measures of a body, in the order in which they are asked for. */
const sizes = [
  ['lengthMm', 'outlineLength'],
  ['lowerMm', 'outlineLower'],
  ['waistMm', 'outlineWaist'],
  ['upperMm', 'outlineUpper'],
  ['lowerAtMm', 'outlineLowerAt'],
  ['waistAtMm', 'outlineWaistAt'],
  ['upperAtMm', 'outlineUpperAt'],
] as const;

export function Outline(props: { readonly plan: Plan; readonly edit: Edit }) {
  const { edit } = props;
  const { outline } = props.plan;
  const { imports } = useWorkshop();
  const t = planWords().top;
  const [refused, setRefused] = useState<string | undefined>(undefined);
  const take = async (file: File | undefined) => {
    if (file === undefined) return;
    const read = await imports.outline(file);
    if (read.kind === 'refused') setRefused(t.refused[read.because]);
    else {
      setRefused(undefined);
      edit((plan) => ({ ...plan, outline: { kind: 'points', source: file.name, points: [...read.points] } }));
    }
  };
  return (
    <fieldset>
      <legend>{t.outline}</legend>
      <Actions>
        {choices(t.bodies).map(([body, name]) => (
          <Button
            key={body}
            text={name}
            onPress={() => edit((plan) => ({ ...plan, outline: bodyFrom(BODY_STATIONS[body]) }))}
          />
        ))}
        <label class="button file">
          {t.fromFile}
          <input
            class="visually-hidden"
            id="outline-file"
            type="file"
            accept=".svg,.dxf"
            onChange={(event) => void take(event.currentTarget.files?.[0])}
          />
        </label>
      </Actions>
      {refused !== undefined && (
        <p class="stop" role="alert">
          {refused}
        </p>
      )}
      {outline.kind === 'body' ? (
        <div class="fields">
          {sizes.map(([key, of]) => (
            <NumberField
              key={key}
              of={of}
              value={outline[key]}
              onSet={(value) => edit((plan) => ({ ...plan, outline: { ...outline, [key]: value } }))}
            />
          ))}
        </div>
      ) : (
        <p>{t.fromSource(outline.source, outline.points.length)}</p>
      )}
      <p class="hint">{t.fileHint}</p>
    </fieldset>
  );
}
