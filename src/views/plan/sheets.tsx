// True-to-scale sheets: printed in pages, or taken away as SVG and DXF.

import { useMemo, useState } from 'preact/hooks';
import { sheetDxf } from '../../record/plan-dxf.ts';
import { planSheet, profileSheet, type SheetWords } from '../../record/plan-sheet.ts';
import { pathData, sheetSvg, textTransform } from '../../record/plan-svg.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import type { Sheet, SheetLine } from '../../record/sheet.ts';
import { OVERLAP_MM, type Paper, type PrintedPage, printed } from '../../record/sheet-pages.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { CheckField, ChoiceField, choices } from '../parts/choice-field.tsx';
import { number } from '../parts/figures.ts';
import { useLength, useRoundLength } from '../parts/own-units.ts';
import { useWorkshop } from '../workshop-context.ts';
import type { Face } from './face.ts';
import { planWords } from './words.ts';

type Subject = 'plan' | 'profiles';

/** Where the lines to measure by begin on a page, clear of the crosses, mm. */
const BAR_FROM_MM = 36;

export function PlanSheets(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const [isOpen, setIsOpen] = useState(false);
  return (
    <details class="card" onToggle={(event) => setIsOpen(event.currentTarget.open)}>
      <summary>{planWords().sheets}</summary>
      {isOpen && <Sheets {...props} />}
    </details>
  );
}

/** What stands on a sheet, in the maker's language and units. */
export function useSheetWords(squareSaid: string): SheetWords {
  const { onSheet } = planWords();
  const length = useLength();
  return {
    ...onSheet,
    square: () => onSheet.square(squareSaid),
    brace: (name, lengthMm, widthMm) => onSheet.brace(name, length(lengthMm), length(widthMm)),
    crossing: ({ angleDeg, hole }) => [
      onSheet.xAngle(number(angleDeg, 1)),
      ...(hole === undefined
        ? []
        : [onSheet.fromHoleEdge(length(hole.fromEdgeMm)), onSheet.fromHoleCentre(length(hole.fromCentreMm))]),
    ],
  };
}

function Sheets({ record, plan }: Parameters<typeof PlanSheets>[0]) {
  const t = planWords();
  const [subject, setSubject] = useState<Subject>('plan');
  const [face, setFace] = useState<Face>('inside');
  const [mirrored, setMirrored] = useState(false);
  const check = useCheckLength();
  const said = useSheetWords(check.said);
  const { hand } = record;
  const asked = [plan, hand, subject, face, mirrored, check.mm] as const;
  const sheet = useMemo(
    () =>
      subject === 'plan' ? planSheet(plan, hand, face, mirrored, said, check.mm) : profileSheet(plan, said, check.mm),
    asked,
  );
  return (
    <>
      <div class="fields">
        <ChoiceField label={t.sheet} value={subject} options={choices(t.subjects)} onChange={setSubject} />
        <ChoiceField label={t.sheetFrom} value={face} options={choices(t.faces)} onChange={setFace} />
      </div>
      <CheckField label={t.mirrored} value={mirrored} onChange={setMirrored} />
      <PrintedSheet
        sheet={sheet}
        of={record.name}
        fileName={`${subject === 'plan' ? `plan-${face}${mirrored ? '-mirrored' : ''}` : 'brace-profiles'}-mm`}
      />
    </>
  );
}

/** The length by which a printed page is measured. */
export const useCheckLength = (): { readonly mm: number; readonly said: string } => useRoundLength()(100, 4);

/** A sheet to print in pages, or to take away as SVG and DXF. */
export function PrintedSheet(props: {
  readonly sheet: Sheet;
  /** what stands in the title of each page */
  readonly of: string;
  readonly fileName: string;
}) {
  const { exchange } = useWorkshop();
  const t = planWords();
  const { sheet, fileName } = props;
  const [paper, setPaper] = useState<Paper>('a4');
  const round = useRoundLength();
  const [check, overlap] = [useCheckLength(), round(OVERLAP_MM, 3 / 8)];
  const { lines, isLandscape, pages } = useMemo(() => printed(sheet, paper), [sheet, paper]);
  const save = (ending: string, type: string, text: string) => exchange.saveText(`${fileName}.${ending}`, type, text);
  return (
    <>
      <ChoiceField label={t.paper} value={paper} options={choices(t.papers)} onChange={setPaper} />
      <Actions>
        <Button kind="primary" text={t.print(pages.length)} onPress={() => window.print()} />
        <Button text={t.saveSvg} onPress={() => save('svg', 'image/svg+xml', sheetSvg(sheet))} />
        <Button text={t.saveDxf} onPress={() => save('dxf', 'image/vnd.dxf', sheetDxf(sheet))} />
      </Actions>
      <p class="hint">{t.printHint(check.said, overlap.said)}</p>
      <div class="print-pages" aria-hidden="true">
        {pages.map((page) => (
          <PageOnPaper
            key={page.name}
            lines={lines}
            page={page}
            paper={`${paper}${isLandscape ? '-landscape' : ''}`}
            checkMm={check.mm}
            title={t.pageTitle(check.said, props.of, page.name)}
          />
        ))}
      </div>
    </>
  );
}

function PageOnPaper(props: {
  readonly lines: readonly SheetLine[];
  readonly page: PrintedPage;
  readonly paper: string;
  readonly checkMm: number;
  readonly title: string;
}) {
  const { checkMm } = props;
  const { xMm, yMm, widthMm, heightMm } = props.page;
  const bar = (x: number, y: number, dx: number, dy: number) => `M${x} ${y}l${dx} ${dy}`;
  return (
    <div class={`print-page ${props.paper}`}>
      <svg
        width={`${widthMm}mm`}
        height={`${heightMm}mm`}
        viewBox={`${xMm} ${yMm} ${widthMm} ${heightMm}`}
        class="print-tile"
      >
        {props.lines.map((line, i) => (
          <path key={i} class={line.layer === 'CENTRE' ? 'thin' : ''} d={pathData(line.points, line.closed)} />
        ))}
        {props.page.texts.map((text, i) => (
          <text key={i} transform={textTransform(text)} font-size={text.heightMm}>
            {text.text}
          </text>
        ))}
        <g transform={`translate(${xMm} ${yMm})`}>
          <path
            class="print-bar"
            d={`${bar(BAR_FROM_MM, heightMm - 3, checkMm, 0)}${bar(3, BAR_FROM_MM, 0, checkMm)}`}
          />
          <text x={BAR_FROM_MM + checkMm / 2} y={heightMm - 4.5} font-size={3.5}>
            {props.title}
          </text>
        </g>
      </svg>
    </div>
  );
}
