// Damage marked where it is, on the outline of top or back, each with its date.
import { useRef, useState } from 'preact/hooks';
import type { Point } from '../../plate/outline.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { topDamages } from '../../record/box-part.ts';
import { type DamagedFace, type DamageMark, markedOutline, withMark, withoutMark } from '../../record/damage.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { day, number } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { onPlan, onScreen, pathOf, viewBoxOf } from '../plan/face.ts';
import { useWorkshop } from '../workshop-context.ts';
import { boxWords } from './words.ts';
import './damage-marks.css';

/** Radius of a mark on the drawing, mm. */
const MARK_MM = 9;

export function DamageMarks(props: {
  readonly record: InstrumentRecord;
  readonly repair: BoxRepair;
  readonly onChange: (make: (known: BoxRepair) => BoxRepair) => void;
}) {
  const { record, repair, onChange } = props;
  const { newId, nowIso } = useWorkshop();
  const t = boxWords().newTop;
  const [face, setFace] = useState<DamagedFace>('top');
  const [damage, setDamage] = useState<DamageMark['damage']>('cracked');
  const svg = useRef<SVGSVGElement>(null);
  const outline = markedOutline(record);
  const marks = (repair.marks ?? []).map((mark, i) => ({ mark, n: i + 1 }));
  const add = (xMm: number, yMm: number) =>
    onChange((known) => withMark(known, { id: newId(), face, damage, xMm, yMm, note: '', atIso: nowIso() }));
  const put = (event: PointerEvent) => {
    const matrix = svg.current?.getScreenCTM();
    if (!matrix) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const [xMm, yMm] = onPlan('outside', [at.x, at.y]).map(Math.round) as [number, number];
    add(xMm, yMm);
  };
  return (
    <div class="two damage-marks">
      <div>
        <div class="fields">
          <ChoiceField label={t.markedOn} value={face} options={faces(t)} onChange={setFace} />
          <ChoiceField
            label={t.markedAs}
            value={damage}
            options={topDamages.map((one) => [one, t.damages[one]] as const)}
            onChange={setDamage}
          />
        </div>
        <p class="hint">
          {t.markHint}{' '}
          <Button kind="quiet" text={t.markMiddle} onPress={() => add(Math.round(middleXMm(outline)), 0)} />
        </p>
        <svg ref={svg} viewBox={viewBoxOf(outline)} role="img" aria-label={t.drawingOf(face)} onPointerUp={put}>
          <path class="damage-outline" d={pathOf('outside', outline, true)} />
          {marks
            .filter(({ mark }) => mark.face === face)
            .map(({ mark, n }) => {
              const [x, y] = onScreen('outside', [mark.xMm, mark.yMm]);
              return (
                <g key={mark.id}>
                  <circle class="damage-mark" cx={x} cy={y} r={MARK_MM} />
                  <text x={x} y={y} class="damage-number">
                    {n}
                  </text>
                </g>
              );
            })}
        </svg>
      </div>
      <ol class="damage-list">
        {marks.map(({ mark, n }) => (
          <li key={mark.id} value={n}>
            <p>
              {t.markAt(mark.face, mark.damage, day(mark.atIso))}{' '}
              <Button
                kind="quiet"
                text={t.removeMark(number(n, 0))}
                onPress={() => onChange((known) => withoutMark(known, mark.id))}
              />
            </p>
            <div class="fields">
              <NumberField
                of="markFromTail"
                value={mark.xMm}
                onSet={(xMm) => onChange((known) => withMark(known, { ...mark, xMm }))}
              />
              <NumberField
                of="markOffCentre"
                value={mark.yMm}
                onSet={(yMm) => onChange((known) => withMark(known, { ...mark, yMm }))}
              />
            </div>
            <TextField
              label={t.markNote}
              value={mark.note}
              onChange={(note) => onChange((known) => withMark(known, { ...mark, note }))}
            />
          </li>
        ))}
      </ol>
    </div>
  );
}

/** Where a mark begins that is put by its measures. */
const middleXMm = (outline: readonly Point[]): number => Math.max(...outline.map(([x]) => x)) / 3;

const faces = (t: ReturnType<typeof boxWords>['newTop']) =>
  [
    ['top', t.faces.top],
    ['back', t.faces.back],
  ] as const;
