// The sheet for the bench: thickness and aims on one page, to be printed and written on.

import type { ReplacementAim } from '../../box/replacement.ts';
import type { StageForecast } from '../../box/stage-jump.ts';
import type { OldMode, TopMatch } from '../../compare/old-signature.ts';
import { plateWoodOf, startOf } from '../../compare/piece-reading.ts';
import { aimBeforeStage } from '../../compare/stage-jumps.ts';
import { type Estimate, estimate, propagated } from '../../quantity/estimate.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import type { InstrumentRecord, Stage } from '../../record/record.ts';
import { TAP_PATTERNS, type TapKind } from '../../wood/hold-guide.ts';
import { isSamePattern } from '../../wood/pattern-names.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { useLength, useLengthEstimate } from '../parts/own-units.ts';
import { type Row, Table, wide } from '../parts/table.tsx';
import { useAllPieces } from '../wood/all-pieces.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { boxWords } from './words.ts';

/** A ratio as a change; a match by definition is no change, not a rounding error with a sign. */
export const percentOf = (ratio: Estimate): string =>
  signed(estimate(Math.round(1e8 * (ratio.value - 1)) / 1e6, 100 * ratio.sigma), '%');

interface SheetProps {
  readonly record: InstrumentRecord;
  readonly old: InstrumentRecord;
  readonly repair: BoxRepair;
  readonly match: TopMatch & { readonly kind: 'match' };
  readonly readings: readonly OldMode[];
  /** in the order of the readings */
  readonly aims: readonly ReplacementAim[];
}

/** What a loose top's mode that becomes the box's top is called. */
const looseTop = 'monopole';

/** Stages of a new top, and which of the old readings speak for each. */
const sections = [
  { key: 'free', stages: ['joined', 'thicknessed'] },
  { key: 'braced', stages: ['braced'] },
  { key: 'rims', stages: ['on-rims'] },
  { key: 'box', stages: ['closed', 'strung'] },
] as const satisfies readonly { readonly key: string; readonly stages: readonly Stage[] }[];

/**
 * What the board of the new wood rings at by itself at that thickness, from its own constants: the old instrument need not
 * have been read as a free plate for this.
 */
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

export function BoxSheet({ record, old, repair, match, readings, aims }: SheetProps) {
  const t = boxWords().sheet;
  const length = useLength(3);
  const measured = useLengthEstimate();
  const boardRows = useBoardRows(repair, match.chosenMm.value);
  const rows = readings.map((reading, i) => ({ reading, aim: aims[i]! }));
  // Where the old instrument was never read at a stage, the maker's others say how a top goes from there to the box.
  const earlier = useWorkshop().earlier.records.value ?? [];
  const inBox = rows.find(
    ({ reading, aim }) => reading.readAt === 'closed' && reading.mode === 'top' && aim.kind === 'aim',
  );
  const forecasts = new Map(
    sections.flatMap(({ key, stages }) => {
      const from = stages[0];
      if (inBox?.aim.kind !== 'aim' || (from !== 'braced' && from !== 'on-rims')) return [];
      const change = { from, to: 'closed', nameBefore: looseTop, nameAfter: 'top' } as const;
      const forecast = aimBeforeStage(earlier, change, inBox.aim.aimHz);
      return forecast.kind === 'expected' ? [[key, forecast] as const] : [];
    }),
  );
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
        head={[t.mode, t.oldRead, t.aimFor, t.youRead]}
        rows={sections.map(({ key, stages }) => {
          const own = rows.filter(({ reading }) => stages.some((stage) => stage === reading.readAt));
          const forecast = forecasts.get(key);
          const none =
            forecast === undefined ? [wide(3, t.noReading), toFill] : [looseTop, '–', expectedWords(forecast), toFill];
          return {
            title: t.stages[key],
            rows: [
              ...(key === 'free' ? boardRows : []),
              ...(own.length === 0
                ? [none]
                : own.map(({ reading, aim }) => [
                    reading.readAt === 'strung' ? boxWords().newTop.modeAt(reading.mode, reading.readAt) : reading.mode,
                    withHalfWidth(reading.frequencyHz, 'Hz'),
                    aimWords(aim, reading),
                    toFill,
                  ])),
            ],
          };
        })}
      />
      <p class="hint">{t.hint}</p>
      <p class="no-print">
        <Button kind="primary" text={t.print} onPress={() => window.print()} />
      </p>
    </Card>
  );
}

function expectedWords({ frequencyHz, low95Hz, high95Hz, instruments }: StageForecast & { kind: 'expected' }): string {
  return boxWords().sheet.expected(number(frequencyHz, 0), number(low95Hz, 0), number(high95Hz, 0), instruments);
}

function aimWords(aim: ReplacementAim, { damage }: OldMode): string {
  const t = boxWords().sheet;
  switch (aim.kind) {
    case 'aim': {
      const why = damage === 'unasked' ? t.unasked : damage.length > 0 ? t.damaged(damage) : undefined;
      return why === undefined ? withHalfWidth(aim.aimHz, 'Hz') : `${withHalfWidth(aim.aimHz, 'Hz')} (${why})`;
    }
    case 'back-stays':
      return t.backStays;
    case 'of-the-box':
      return t.airOfBox;
  }
}
