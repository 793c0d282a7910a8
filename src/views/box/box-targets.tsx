// Targets over the three modes of the box.
import type { MovedMode } from '../../compare/box-change.ts';
import type { BoxPart } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { useBoxEdit } from './part.ts';
import { boxWords } from './words.ts';

export type Aim = NonNullable<BoxPart['aims']>[number];

export const missingHz = (aim: Aim, mode: MovedMode): number => aim.frequencyHz - mode.thenHz.value;

export function Aims(props: { readonly aims: readonly Aim[]; readonly modes: readonly MovedMode[] }) {
  const { newId } = useWorkshop();
  const edit = useBoxEdit();
  const { aims, modes } = props;
  const { whatIf: t, codes } = boxWords();
  const set = (changed: readonly Aim[]) => edit('box-target', (box) => ({ ...box, aims: [...changed] }));
  const free = codes.modes.slice(0, modes.length).findIndex((_, i) => !aims.some((aim) => aim.mode === i));
  return (
    <Card title={t.target}>
      {aims.length === 0 && <p>{t.noTarget}</p>}
      {aims.map((aim) => {
        const change = (part: Partial<Aim>) =>
          set(aims.map((known) => (known.id === aim.id ? { ...known, ...part } : known)));
        return (
          <fieldset key={aim.id} class="target">
            <legend>{codes.modes[aim.mode]}</legend>
            <div class="fields">
              <NumberField of="wantedBoxHz" value={aim.frequencyHz} onSet={(frequencyHz) => change({ frequencyHz })} />
              <NumberField
                of="boxToleranceHz"
                value={aim.toleranceHz}
                onSet={(toleranceHz) => change({ toleranceHz })}
              />
            </div>
            <Button kind="quiet" text={t.remove} onPress={() => set(aims.filter((known) => known.id !== aim.id))} />
          </fieldset>
        );
      })}
      {free >= 0 && (
        <Button
          text={t.addTarget}
          onPress={() =>
            set([
              ...aims,
              { id: newId(), mode: free, frequencyHz: Math.round(modes[free]!.nowHz.value), toleranceHz: 2 },
            ])
          }
        />
      )}
    </Card>
  );
}
