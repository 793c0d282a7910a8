// The sheet for the bench: thickness and aims on one page, to be printed and written on.
import type { ReplacementAim } from '../box/replacement.ts';
import type { StageForecast } from '../box/stage-jump.ts';
import type { OldMode, TopMatch } from '../compare/old-signature.ts';
import { plateWoodOf, startOf } from '../compare/piece-reading.ts';
import { aimBeforeStage } from '../compare/stage-jumps.ts';
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import type { BoxRepair } from '../record/box-edit.ts';
import type { InstrumentRecord, Stage } from '../record/record.ts';
import { TAP_PATTERNS, type TapKind } from '../wood/hold-guide.ts';
import { isSamePattern } from '../wood/pattern-names.ts';
import { damageWords, listed, matchWords } from './box-words.ts';
import { number, signed, withHalfWidth } from './figures.ts';
import { useAllPieces } from './wood-all-pieces.ts';
import { tapWords } from './wood-words.ts';
import { stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

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

/** Stages of a new top, and which of the old readings speak for each. */
const sections: readonly { readonly title: string; readonly stages: readonly Stage[] }[] = [
  { title: 'Free plate, before bracing', stages: ['joined', 'thicknessed'] },
  { title: 'Braced, before gluing', stages: ['braced'] },
  { title: 'On the rims', stages: ['on-rims'] },
  { title: 'In the closed box', stages: ['closed', 'strung'] },
];

/**
 * What the board of the new wood rings at by itself at that thickness, from its own constants: the old instrument need not
 * have been read as a free plate for this.
 */
function BoardRows(props: { readonly repair: BoxRepair; readonly thicknessMm: number }) {
  const { answers } = useWorkshop();
  const piece = useAllPieces().find((at) => at.piece.id === props.repair.newWood.pieceId)?.piece;
  const wood = piece && plateWoodOf(piece);
  if (piece?.lengthMm === undefined || piece.widthMm === undefined || wood === undefined) return null;
  const plan = { lengthMm: piece.lengthMm.value, widthMm: piece.widthMm.value };
  const state = answers.of('modes-against-thickness', {
    plan,
    wood,
    thicknessesMm: [props.thicknessMm],
    shearRatios: startOf(piece).shearRatios,
  }).value;
  if (state.kind !== 'answer') return null;
  const moduli = { 'long-grain-bending': wood.eLongGpa, 'cross-grain-bending': wood.eCrossGpa, twist: wood.gGpa };
  return (
    <>
      <tr>
        <td colSpan={4}>
          {piece.name} alone, {number(plan.lengthMm, 0)} × {number(plan.widthMm, 0)} mm, planed even:
        </td>
      </tr>
      {(Object.keys(moduli) as TapKind[]).map((kind) => {
        const mode = state.answer[0]?.modes.find(({ pattern }) => isSamePattern(TAP_PATTERNS[kind], pattern));
        return (
          mode !== undefined && (
            <tr key={kind}>
              <th scope="row">{tapWords[kind].toLowerCase()}</th>
              <td>–</td>
              <td>{withHalfWidth(boardNote(mode.frequencyHz, moduli[kind], wood.densityKgM3), 'Hz')}</td>
              <td class="to-fill" />
            </tr>
          )
        );
      })}
    </>
  );
}

/** f goes with sqrt(E / rho): half of each relative doubt, taken as independent, which is wider than they are. */
const boardNote = (frequencyHz: number, modulus: Estimate, density: Estimate): Estimate =>
  propagated(([e, rho]) => frequencyHz * Math.sqrt(e! / modulus.value / (rho! / density.value)), [modulus, density])
    .result;

export function BoxSheet({ record, old, repair, match, readings, aims }: SheetProps) {
  const rows = readings.map((reading, i) => ({ reading, aim: aims[i]! }));
  // Where the old instrument was never read at a stage, the maker's others say how a top goes from there to the box.
  const earlier = useWorkshop().earlier.records.value ?? [];
  const inBox = rows.find(
    ({ reading, aim }) => reading.readAt === 'closed' && reading.mode === 'top' && aim.kind === 'aim',
  );
  const forecasts = new Map(
    sections.flatMap(({ title, stages }) => {
      const from = stages[0];
      if (inBox?.aim.kind !== 'aim' || (from !== 'braced' && from !== 'on-rims')) return [];
      const change = { from, to: 'closed', nameBefore: 'monopole', nameAfter: 'top' } as const;
      const forecast = aimBeforeStage(earlier, change, inBox.aim.aimHz);
      return forecast.kind === 'expected' ? [[title, forecast] as const] : [];
    }),
  );
  return (
    <section class="card sheet" aria-label="Sheet for the bench">
      <h2>
        {record.name}: a new top after {old.id === record.id ? 'the old one' : old.name}
      </h2>
      <p class="sheet-thickness">
        Thickness <strong>{number(match.chosenMm.value, 2)} mm</strong>
        {repair.newThicknessMm === undefined
          ? ` (${withHalfWidth(match.thicknessMm[repair.matchBy], 'mm')}, ${matchWords[repair.matchBy].toLowerCase()} as the old top)`
          : ' (chosen)'}
      </p>
      <p>
        Against the old top at that thickness: stiffness {percentOf(match.ratios.along)} along and{' '}
        {percentOf(match.ratios.across)} across, mass {percentOf(match.ratios.arealMass)}. Bring the stiffness right
        first, then the mass.
      </p>
      <section class="scroll" tabIndex={0} aria-label="Aims">
        <table>
          <thead>
            <tr>
              <th scope="col">Mode</th>
              <th scope="col">The old one read</th>
              <th scope="col">Aim for</th>
              <th scope="col">You read</th>
            </tr>
          </thead>
          {sections.map(({ title, stages }) => {
            const own = rows.filter(({ reading }) => stages.includes(reading.readAt));
            return (
              <tbody key={title}>
                <tr>
                  <th colSpan={4} scope="rowgroup">
                    {title}
                  </th>
                </tr>
                {stages.includes('thicknessed') && <BoardRows repair={repair} thicknessMm={match.chosenMm.value} />}
                {own.length === 0 && forecasts.has(title) ? (
                  <tr>
                    <th scope="row">monopole</th>
                    <td>–</td>
                    <td>{expectedWords(forecasts.get(title)!)}</td>
                    <td class="to-fill" />
                  </tr>
                ) : own.length === 0 ? (
                  <tr>
                    <td colSpan={4}>The old instrument has no named reading at this stage.</td>
                  </tr>
                ) : (
                  own.map(({ reading, aim }) => (
                    <tr key={`${reading.readAt} ${reading.mode}`}>
                      <th scope="row">
                        {reading.mode}
                        {reading.readAt === 'strung' && `, ${stageWords[reading.readAt].toLowerCase()}`}
                      </th>
                      <td>{withHalfWidth(reading.frequencyHz, 'Hz')}</td>
                      <td>{aimWords(aim)}</td>
                      <td class="to-fill" />
                    </tr>
                  ))
                )}
              </tbody>
            );
          })}
        </table>
      </section>
      <p class="hint">
        The aims allow for the new wood’s stiffness and mass at this thickness, with braces and rims rebuilt alike;
        shares of braces and plate are the trade’s usual ones, and their doubt is in the ±. In the closed box the air’s
        spring counts among what stays. ± is the 95 % interval.
      </p>
      <p class="no-print">
        <button type="button" class="primary" onClick={() => window.print()}>
          Print this sheet
        </button>
      </p>
    </section>
  );
}

function expectedWords({ frequencyHz, low95Hz, high95Hz, instruments }: StageForecast & { kind: 'expected' }): string {
  return `${number(frequencyHz, 0)} Hz, between ${number(low95Hz, 0)} and ${number(high95Hz, 0)}, for the top of the box wanted below: as your ${instruments} earlier instruments went`;
}

function aimWords(aim: ReplacementAim): string {
  switch (aim.kind) {
    case 'aim':
      return withHalfWidth(aim.aimHz, 'Hz');
    case 'untrusted':
      return `no target: ${listed(aim.because.map((one) => damageWords[one]))}`;
    case 'not-of-the-top':
      return 'stays with the body: read it again before closing';
  }
}
