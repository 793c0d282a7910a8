// The numbered spots at full size, to lay on the plate.
import { useMemo, useState } from 'preact/hooks';
import { planOnBench } from '../../forecast/roving-question.ts';
import type { Point } from '../../plate/outline.ts';
import { planSheet } from '../../record/plan-sheet.ts';
import type { Plan } from '../../record/record.ts';
import { PrintedSheet, useCheckLength, useSheetWords } from '../plan/sheets.tsx';
import '../plan/plan-print.css';
import type { OfferedSetting } from './use-setting.ts';
import { shapesWords } from './words.ts';

/** Nothing where no plate is drawn. */
export function SpotSheet({ setting }: { readonly setting: OfferedSetting }) {
  const [isOpen, setIsOpen] = useState(false);
  const { plan } = setting.record;
  if (plan === undefined || setting.spots[0]?.xMm === undefined) return null;
  return (
    <details class="spot-sheet" onToggle={(event) => setIsOpen(event.currentTarget.open)}>
      <summary>{shapesWords().sheet}</summary>
      {isOpen && <OpenSheet setting={setting} plan={plan} />}
    </details>
  );
}

function OpenSheet({ setting, plan }: { readonly setting: OfferedSetting; readonly plan: Plan }) {
  const t = shapesWords();
  const { record, step, spots } = setting;
  const check = useCheckLength();
  const said = useSheetWords(check.said);
  const sheet = useMemo(() => {
    const at = spots.flatMap(({ xMm, yMm }): Point[] => (xMm === undefined || yMm === undefined ? [] : [[xMm, yMm]]));
    return planSheet(planOnBench(record, plan, step), record.hand, 'outside', false, said, check.mm, at);
  }, [record, plan, step, spots, check.mm]);
  return (
    <>
      <p class="hint">{t.sheetHint}</p>
      <PrintedSheet sheet={sheet} of={t.sheetOf(record.name, spots.length)} fileName={`spots-${spots.length}-mm`} />
    </>
  );
}
