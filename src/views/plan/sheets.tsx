// True-to-scale sheets: printed in tiles, or taken away as SVG and DXF.

import { useState } from 'preact/hooks';
import { sheetDxf } from '../../record/plan-dxf.ts';
import {
  CHECK_MM,
  LIVE_MM,
  OVERLAP_MM,
  planSheet,
  profileSheet,
  type Sheet,
  type Tile,
  tilesOf,
} from '../../record/plan-sheet.ts';
import { pathData, sheetSvg } from '../../record/plan-svg.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { CheckField, ChoiceField, choices } from '../parts/choice-field.tsx';
import { number } from '../parts/figures.ts';
import { useWorkshop } from '../workshop-context.ts';
import type { Face } from './face.ts';
import { planWords } from './words.ts';

type Subject = 'plan' | 'profiles';
type Paper = 'a4' | 'letter';

export function PlanSheets(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const { exchange } = useWorkshop();
  const { record, plan } = props;
  const t = planWords();
  const [subject, setSubject] = useState<Subject>('plan');
  const [face, setFace] = useState<Face>('inside');
  const [mirrored, setMirrored] = useState(false);
  const [paper, setPaper] = useState<Paper>('a4');
  const [isOpen, setIsOpen] = useState(false);
  const sheet =
    subject === 'plan' ? planSheet(plan, record.hand, face, mirrored, t.onSheet) : profileSheet(plan, t.onSheet);
  const tiles = tilesOf(sheet);
  const name = `${subject === 'plan' ? `plan-${face}${mirrored ? '-mirrored' : ''}` : 'brace-profiles'}-mm`;
  return (
    <details class="card" onToggle={(event) => setIsOpen(event.currentTarget.open)}>
      <summary>{t.sheets}</summary>
      <div class="fields">
        <ChoiceField label={t.sheet} value={subject} options={choices(t.subjects)} onChange={setSubject} />
        <ChoiceField label={t.sheetFrom} value={face} options={choices(t.faces)} onChange={setFace} />
        <ChoiceField label={t.paper} value={paper} options={choices(t.papers)} onChange={setPaper} />
      </div>
      <CheckField label={t.mirrored} value={mirrored} onChange={setMirrored} />
      <Actions>
        <Button kind="primary" text={t.print(tiles.length)} onPress={() => window.print()} />
        <Button text={t.saveSvg} onPress={() => exchange.saveText(`${name}.svg`, 'image/svg+xml', sheetSvg(sheet))} />
        <Button text={t.saveDxf} onPress={() => exchange.saveText(`${name}.dxf`, 'image/vnd.dxf', sheetDxf(sheet))} />
      </Actions>
      <p class="hint">{t.printHint(CHECK_MM, OVERLAP_MM)}</p>
      {isOpen && (
        <div class="print-pages" aria-hidden="true">
          {tiles.map((tile) => (
            <Page key={tile.name} sheet={sheet} tile={tile} paper={paper} title={t.pageTitle(record.name, tile.name)} />
          ))}
        </div>
      )}
    </details>
  );
}

function Page(props: { readonly sheet: Sheet; readonly tile: Tile; readonly paper: Paper; readonly title: string }) {
  const { sheet, tile } = props;
  const { width, height } = LIVE_MM;
  const half = OVERLAP_MM / 2;
  const crosses = [half, width - half].flatMap((x) => [half, height - half].map((y) => [x, y] as const));
  const bar = (x: number, y: number, dx: number, dy: number) => `M${x} ${y}l${dx} ${dy}`;
  return (
    <div class={`print-page ${props.paper}`}>
      <svg
        width={`${width}mm`}
        height={`${height}mm`}
        viewBox={`${tile.xMm} ${tile.yMm} ${width} ${height}`}
        class="print-tile"
      >
        {sheet.lines.map((line, i) => (
          <path key={i} class={line.layer === 'CENTRE' ? 'thin' : ''} d={pathData(line.points, line.closed)} />
        ))}
        {sheet.texts.map((text, i) => (
          <text key={i} x={text.at[0]} y={text.at[1]} font-size={text.heightMm}>
            {text.text}
          </text>
        ))}
        <g transform={`translate(${tile.xMm} ${tile.yMm})`}>
          {crosses.map(([x, y]) => (
            <path key={`${x} ${y}`} d={`M${x - 4} ${y}h8M${x} ${y - 4}v8`} />
          ))}
          <path class="print-bar" d={`${bar(half + 15, height - 4, CHECK_MM, 0)}${bar(4, half + 15, 0, CHECK_MM)}`} />
          <text x={half + 15 + CHECK_MM / 2} y={height - 5.5} font-size={3.5}>
            {number(CHECK_MM, 0)} mm · {props.title}
          </text>
        </g>
      </svg>
    </div>
  );
}
