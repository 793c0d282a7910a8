// The least heights of a brace, each on its stretch.
import type { BraceReading } from '../../record/cut-place.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import type { PlanBrace } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { asRead } from './as-read.ts';
import { planWords } from './words.ts';

export function Floors(props: {
  readonly brace: PlanBrace;
  readonly reading: BraceReading;
  readonly onChange: (floors: PlanBrace['floors']) => void;
}) {
  const { brace, reading, onChange } = props;
  const t = planWords().braceForm;
  const put = (at: number, part: Partial<PlanBrace['floors'][number]>) =>
    onChange(brace.floors.map((floor, i) => (i === at ? { ...floor, ...part } : floor)));
  /** The stretch of a floor as it is read, with one of its ends put elsewhere. */
  const move = (at: number, which: 0 | 1, readMm: number | undefined) => {
    const floor = brace.floors[at];
    if (readMm === undefined || floor === undefined) return;
    const read = reading.stretch(floor.fromMm, floor.toMm);
    const [from, to] = which === 0 ? [readMm, read[1]] : [read[0], readMm];
    const [fromMm, toMm] = reading.stretch(from, to);
    put(at, { fromMm, toMm });
  };
  return (
    <details>
      <summary>{t.floors}</summary>
      <p class="hint">{t.countedFrom(reading.end)}</p>
      {asRead(brace.floors, ({ fromMm, toMm }) => reading.stretch(fromMm, toMm)[0]).map(({ one: floor, i }) => (
        <div class="fields" key={i}>
          {([0, 1] as const).map((which) => (
            <NumberField
              key={which}
              of={which === 0 ? 'stretchFrom' : 'stretchTo'}
              value={reading.stretch(floor.fromMm, floor.toMm)[which]}
              onChange={(value) => move(i, which, value)}
            />
          ))}
          <NumberField of="floorHeight" value={floor.heightMm} onSet={(heightMm) => put(i, { heightMm })} />
          <Button kind="quiet" text={t.remove} onPress={() => onChange(brace.floors.filter((_, k) => k !== i))} />
        </div>
      ))}
      <Button
        kind="quiet"
        text={t.addFloor}
        onPress={() =>
          onChange([
            ...brace.floors,
            {
              fromMm: 0,
              toMm: Math.round(planBraceLengthMm(brace)),
              heightMm: Math.max(2, Math.min(...brace.profile.map((p) => p.heightMm))),
            },
          ])
        }
      />
    </details>
  );
}
