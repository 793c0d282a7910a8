// The sheet for the bench: thickness and aims on one page, to be printed and written on.

import { aimStages } from '../../compare/aim-sources.ts';
import { bridgeAim } from '../../compare/old-signature.ts';
import { plateWoodOf, startOf } from '../../compare/piece-reading.ts';
import { type Estimate, estimate, propagated } from '../../quantity/estimate.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { TAP_PATTERNS, type TapKind } from '../../wood/hold-guide.ts';
import { isSamePattern } from '../../wood/pattern-names.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { signed, withHalfWidth } from '../parts/figures.ts';
import { useLength, useLengthEstimate, useMass } from '../parts/own-units.ts';
import { type Row, Table, wide } from '../parts/table.tsx';
import { useAllPieces } from '../wood/all-pieces.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { AimCell } from './aim-cell.tsx';
import { type AimsProps, useAimRows } from './aim-rows.ts';
import { boxWords } from './words.ts';

/** A ratio as a change; a match by definition is no change, not a rounding error with a sign. */
export const percentOf = (ratio: Estimate): string =>
  signed(estimate(Math.round(1e8 * (ratio.value - 1)) / 1e6, 100 * ratio.sigma), '%');

/** What the board itself should sound at when it is cut to this thickness; no row where the board is not known. */
function useBoardRows(repair: BoxRepair, thicknessMm: number): readonly Row[] {
  const { answers } = useWorkshop();
  const length = useLength();
  const piece = useAllPieces().find((at) => at.piece.id === repair.newWood.pieceId)?.piece;
  const wood = piece && plateWoodOf(piece);
  if (piece?.lengthMm === undefined || piece.widthMm === undefined || wood === undefined) return [];
  const plan = { lengthMm: piece.lengthMm.value, widthMm: piece.widthMm.value };
  const state = answers.of('modes-against-thickness', {
    plan,
    wood,
    thicknessesMm: [thicknessMm],
    shearRatios: startOf(piece).shearRatios,
  }).value;
  if (state.kind !== 'answer') return [];
  const moduli = { 'long-grain-bending': wood.eLongGpa, 'cross-grain-bending': wood.eCrossGpa, twist: wood.gGpa };
  return [
    [wide(4, boxWords().sheet.alone(piece.name, length(plan.lengthMm), length(plan.widthMm)))],
    ...(Object.keys(moduli) as TapKind[]).flatMap((kind): readonly Row[] => {
      const mode = state.answer[0]?.modes.find(({ pattern }) => isSamePattern(TAP_PATTERNS[kind], pattern));
      if (mode === undefined) return [];
      const hz = boardNote(mode.frequencyHz, moduli[kind], wood.densityKgM3);
      return [[boxWords().sheet.tap(kind), '–', withHalfWidth(hz, 'Hz'), toFill]];
    }),
  ];
}

/** Room for what is read with the instrument on the bench. */
const toFill = <span class="to-fill" />;

/** f goes with sqrt(E / rho): half of each relative doubt, taken as independent, which is wider than they are. */
const boardNote = (frequencyHz: number, modulus: Estimate, density: Estimate): Estimate =>
  propagated(([e, rho]) => frequencyHz * Math.sqrt(e! / modulus.value / (rho! / density.value)), [modulus, density])
    .result;

export function BoxSheet(props: AimsProps) {
  const { record, old, repair, match } = props;
  const t = boxWords().sheet;
  const length = useLength(3);
  const measured = useLengthEstimate();
  const boardRows = useBoardRows(repair, match.chosenMm.value);
  const mass = useMass();
  const { rows, isComputing } = useAimRows(props);
  const down = bridgeAim(old, repair, match.ratios, props.newAir);
  const bridgeRows: readonly Row[] =
    down === undefined
      ? []
      : [[t.givesUnder(mass(repair.bridgeLoadG!)), measured(repair.bridgeDownMm!), measured(down), toFill]];
  return (
    <Card
      title={old.id === record.id ? t.titleSame(record.name) : t.title(record.name, old.name)}
      class="sheet"
      label={t.label}
    >
      <p class="sheet-thickness">
        {words.quantities.topThickness} <strong>{length(match.chosenMm.value)}</strong>{' '}
        {repair.newThicknessMm === undefined
          ? t.asOldTop(measured(match.thicknessMm[repair.matchBy]), repair.matchBy)
          : t.chosen}
      </p>
      <p>
        {t.against(percentOf(match.ratios.along), percentOf(match.ratios.across), percentOf(match.ratios.arealMass))}
      </p>
      <Table
        label={t.aims}
        isWordy
        head={[t.mode, t.oldRead, t.aimFor, t.youRead]}
        rows={aimStages.map((stage) => {
          const beside = stage === 'free' ? boardRows : stage === 'box' ? bridgeRows : [];
          const own = rows.filter((row) => row.stage === stage);
          return {
            title: t.stages[stage],
            rows: [
              ...beside,
              ...(own.length === 0 && beside.length === 0
                ? [[wide(3, t.noReading), toFill]]
                : own.map((row) => [
                    row.mode,
                    row.oldHz === undefined ? '–' : withHalfWidth(row.oldHz, 'Hz'),
                    <AimCell key={row.mode} row={row} />,
                    toFill,
                  ])),
            ],
          };
        })}
      />
      {isComputing && <p class="hint no-print">{t.computing}</p>}
      <p class="hint">{t.hint}</p>
      <p class="no-print">
        <Button kind="primary" text={t.print} onPress={() => window.print()} />
      </p>
    </Card>
  );
}
