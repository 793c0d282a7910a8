// The parts that both reports are made of: drawing, wood, signature.

import type { NamedSignature } from '../../../compare/named-modes.ts';
import { ringS } from '../../../compare/report.ts';
import { sameSupport, soundRounds } from '../../../compare/signature.ts';
import { type Estimate, isMeasured } from '../../../quantity/estimate.ts';
import { isNoteKnown, nearestNote } from '../../../quantity/pitch.ts';
import { planNow } from '../../../record/cuts.ts';
import { ownPlan } from '../../../record/plan-edit.ts';
import type { InstrumentRecord, Piece, PlanWood } from '../../../record/record.ts';
import { cents, day, number, withHalfWidth } from '../../parts/figures.ts';
import { MeasuredSpectrum } from '../../parts/mode-spectrum.tsx';
import { useLength, useLengthEstimate } from '../../parts/own-units.ts';
import { Table } from '../../parts/table.tsx';
import { useAir } from '../../parts/use-air.ts';
import type { Face } from '../../plan/face.ts';
import { PlanDrawing } from '../../plan/plan-drawing.tsx';
import { planWoodWord } from '../../plan/words.ts';
import { pieceKindWords, speciesWord } from '../../wood/words.ts';
import { midSentence, spotWord } from '../../words/codes.ts';
import { conditionsWords } from '../../words/conditions.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';

export function ReportPlan(props: { readonly record: InstrumentRecord; readonly face: Face }) {
  const { record, face } = props;
  const plan = ownPlan(record);
  if (plan === undefined) return null;
  return (
    <figure class="report-plan">
      <PlanDrawing plan={planNow(record, plan)} hand={record.hand} face={face} />
      <figcaption>{words.report.planCaption[face]}</figcaption>
    </figure>
  );
}

interface WoodRow {
  readonly part: string;
  readonly species: string;
  readonly thick: Estimate | undefined;
  readonly densityKgM3: Estimate | undefined;
  readonly eLongGpa: Estimate | undefined;
  readonly eCrossGpa: Estimate | undefined;
}

/** The pieces of the record, else the woods of the plan. */
function woodRows(record: InstrumentRecord): readonly WoodRow[] {
  const { pieces = [] } = record;
  const plan = ownPlan(record);
  // Boards that were not read yet say nothing of the plate: what the plan reckons with stands beside them.
  const isRead = pieces.some(({ reading }) => reading !== undefined);
  if (isRead || plan === undefined) return pieces.map(rowOfPiece);
  const drawn = (part: string, wood: PlanWood, thicknessMm?: number): WoodRow => ({
    part,
    species: planWoodWord(wood),
    thick: thicknessMm === undefined ? undefined : { value: thicknessMm, sigma: 0 },
    densityKgM3: wood.densityKgM3,
    eLongGpa: wood.eLongGpa,
    eCrossGpa: wood.eCrossGpa,
  });
  return [
    ...pieces.map(rowOfPiece),
    drawn(words.report.plate, plan.wood, plan.thicknessMm),
    drawn(words.report.braces, plan.braceWood),
  ];
}

const rowOfPiece = (piece: Piece): WoodRow => ({
  part: pieceKindWords[piece.kind],
  species: [piece.name, speciesWord(piece.species)].filter((part) => part !== '').join(', '),
  thick: piece.finishedMm ?? piece.thicknessMm,
  densityKgM3: piece.reading?.densityKgM3,
  eLongGpa: piece.reading?.eLongGpa,
  eCrossGpa: piece.reading?.eCrossGpa,
});

/** The woods by what they became, each once: no names of boards, no sizes of stock. */
export function woodFacts(record: InstrumentRecord): readonly (readonly [term: string, text: string])[] {
  const { pieces = [] } = record;
  const plan = ownPlan(record);
  const used =
    pieces.length > 0 ? pieces.map(({ kind, species }) => [pieceKindWords[kind], speciesWord(species)] as const) : [];
  const drawn =
    plan === undefined || used.length > 0 ? [] : woodRows(record).map(({ part, species }) => [part, species] as const);
  const terms = new Map<string, Set<string>>();
  for (const [term, wood] of used.length > 0 ? used : drawn)
    if (wood !== '') terms.set(term, (terms.get(term) ?? new Set<string>()).add(wood));
  return [...terms].map(([term, woods]) => [term, [...woods].join(', ')]);
}

export function ReportWood(props: { readonly record: InstrumentRecord }) {
  const drawn = useLength(3);
  const measured = useLengthEstimate();
  /** A drawn thickness has no interval of its own. */
  const thickness = (thick: Estimate) => (thick.sigma === 0 ? drawn(thick.value) : measured(thick));
  const t = words.report;
  const rows = woodRows(props.record);
  if (rows.length === 0) return <p>{t.noWood}</p>;
  const figure = (value: Estimate | undefined, unit: string) =>
    value === undefined ? '–' : withHalfWidth(value, unit);
  return (
    <Table
      label={t.wood}
      class="report-table"
      head={[t.piece, t.species, t.thick, words.quantities.density, t.along, t.across]}
      rows={rows.map((row) => [
        row.part,
        row.species,
        row.thick === undefined ? '–' : thickness(row.thick),
        figure(row.densityKgM3, 'kg/m³'),
        figure(row.eLongGpa, 'GPa'),
        figure(row.eCrossGpa, 'GPa'),
      ])}
    />
  );
}

/** Spectrum and figures of the final signature; the short form leaves out nameless modes where there are named ones. */
export function ReportSignature(props: {
  readonly record: InstrumentRecord;
  readonly final: NamedSignature | undefined;
  readonly short?: boolean;
}) {
  const air = useAir();
  const t = words.report;
  const { record, final } = props;
  if (final === undefined) return <p>{t.notMeasured}</p>;
  const { step, signature } = final;
  const rounds = soundRounds(step).filter((round) => sameSupport(round.support, signature.support));
  const taps = rounds.reduce((sum, round) => sum + (round.fit?.used.length ?? 0), 0);
  const named = final.modes.filter(({ name }) => name !== undefined);
  const listed = (props.short && named.length > 0 ? named : final.modes).filter(({ mode }) =>
    isNoteKnown(mode.frequencyHz),
  );
  const facts = [
    conditionsWords({ stage: step.stage, support: signature.support }),
    t.takenAt(record.steps.indexOf(step) + 1, day(step.atIso)),
    air.one(step.climate),
    t.tapsAt(words.fields.taps(taps), signature.spots.map((spot) => midSentence(spotWord(spot))).join('; ')),
  ];
  return (
    <>
      <p class="report-how">{facts.filter((fact) => fact !== '').join(' · ')}</p>
      <MeasuredSpectrum rounds={rounds} modes={final.modes} low={props.short ?? false} />
      <ModeTable modes={listed} short={props.short ?? false} />
      <p class="report-small">
        {t.howToRead} {!signature.scatterKnown && t.oneHold}
      </p>
    </>
  );
}

function ModeTable(props: { readonly modes: NamedSignature['modes']; readonly short: boolean }) {
  const a4Hz = useWorkshop().preferences.settings.value.a4Hz;
  const t = words.report;
  return (
    <Table
      label={t.modes}
      class="report-table report-whole"
      head={[t.mode, t.frequency, t.note, props.short ? undefined : t.q, t.rings]}
      rows={props.modes.map(({ mode, name }) => {
        const note = nearestNote(mode.frequencyHz.value, a4Hz);
        return [
          name ?? <span class="report-faint">{t.noName}</span>,
          withHalfWidth(mode.frequencyHz, 'Hz') + (mode.resolution === 'pair' ? ` (${t.pair})` : ''),
          t.centsFrom(`${note.name}${number(note.octave, 0)}`, cents(note.cents)),
          props.short ? undefined : isMeasured(mode.q) ? withHalfWidth(mode.q, '', 0) : t.notMeasurable,
          isMeasured(mode.q) ? withHalfWidth(ringS(mode), 's') : t.notMeasurable,
        ];
      })}
    />
  );
}
