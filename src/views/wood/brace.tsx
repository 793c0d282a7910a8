// What a stick is worth as a brace: level, tapered or scalloped, glued to its strip of plate; and which other could stand in.

import type { PieceAt } from '../../app/stock.ts';
import { equalGluedHeightM } from '../../brace/equal-glued-height.ts';
import { bracedStripStiffness } from '../../brace/glued-strip.ts';
import { shapedProfile } from '../../brace/profile.ts';
import { shelfStickOf } from '../../compare/piece-reading.ts';
import { type Estimate, propagated, scaled } from '../../quantity/estimate.ts';
import type { QuantityName } from '../../record/quantities.ts';
import type { Piece } from '../../record/record.ts';
import { stickSwaps } from '../../wood/matching.ts';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { Facts } from '../parts/figure.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useLengthEstimate, useMassEstimate } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { useAllPieces } from './all-pieces.ts';
import { alongOf, endMm, type MeasuredAlong, nm2, Stations, type Use } from './brace-stations.tsx';
import { useChangePiece } from './piece-form.tsx';
import { woodWords } from './words.ts';

/** Height to begin with, and of the ends of the shapes, mm. Common practice, no source. */
const beginHeightMm = 14;

const beginning = (piece: Piece): Use => ({
  section: 'parabola',
  widthMm: 8,
  stations: [...shapedProfile('level', Math.round(piece.lengthMm?.value ?? 400), beginHeightMm, endMm)],
  plateMm: 2.8,
  stripMm: 40,
  plateGpa: 1,
});

/** A brace made of this stick: stiffness glued to its strip of plate, and which other stick could stand in for it. */
export function BraceOf(props: { readonly piece: Piece }) {
  const { piece } = props;
  const t = woodWords().brace;
  const all = useAllPieces();
  const change = useChangePiece(piece.id);
  const stick = shelfStickOf(piece);
  if (stick === undefined) return <p>{t.readFirst}</p>;
  const use = piece.brace ?? beginning(piece);
  const set = (part: Partial<Use>) => change('brace-wood', (p) => ({ ...p, brace: { ...use, ...part } }));
  const strip = { widthM: use.stripMm / 1000, thicknessM: use.plateMm / 1000, modulusPa: use.plateGpa * 1e9 };
  const bare = { shape: use.section, widthM: use.widthMm / 1000 };
  const along = alongOf(bare, strip, use.stations, stick.eGpa);
  const heightMm = Math.max(0, ...use.stations.map((station) => station.heightMm));
  const size = (key: 'widthMm' | 'plateMm' | 'stripMm', of: QuantityName) => (
    <NumberField
      {...(key === 'plateMm' ? { label: t.plateMm } : {})}
      of={of}
      value={use[key]}
      onSet={(value) => set({ [key]: value })}
    />
  );
  return (
    <>
      <div class="fields">
        <ChoiceField
          label={t.section}
          value={use.section}
          options={choices(t.sections)}
          onChange={(section) => set({ section })}
        />
        {size('widthMm', 'wholeBraceWidth')}
        {size('plateMm', 'plateThickness')}
        {size('stripMm', 'stripWidth')}
        <NumberField
          of="plateModulus"
          hint={t.plateModulusHint}
          value={use.plateGpa}
          onSet={(plateGpa) => set({ plateGpa })}
        />
      </div>
      <Stations use={use} along={along} onChange={(stations) => set({ stations: [...stations] })} />
      {along === null ? (
        <p class="note">{t.onePlace}</p>
      ) : (
        <Whole
          along={along}
          bareNm2={bracedStripStiffness({ ...bare, heightM: 0, modulusPa: 0 }, strip).bendingNm2}
          massG={scaled(stick.densityKgM3, along.volumeM3 * 1000)}
        />
      )}
      {heightMm > 0 && (
        <Swaps
          piece={piece}
          all={all}
          heightMm={heightMm}
          glued={(other) =>
            propagated(
              ([own, its]) =>
                1000 *
                equalGluedHeightM({ ...bare, heightM: heightMm / 1000, modulusPa: own! * 1e9 }, strip, its! * 1e9),
              [stick.eGpa, other],
            ).result
          }
        />
      )}
    </>
  );
}

function Whole(props: { readonly along: MeasuredAlong; readonly bareNm2: number; readonly massG: Estimate }) {
  const t = woodWords().brace;
  const g = useMassEstimate();
  const stations = props.along.stationsNm2.toSorted((p, q) => q.value - p.value);
  return (
    <>
      <Facts
        of={[
          [t.even, nm2(props.along.evenNm2)],
          [t.stiffest, nm2(stations[0]!)],
          [t.softest, nm2(stations.at(-1)!)],
          [t.bareStrip, `${number(props.bareNm2, 2)} N m²`],
          [t.mass, g(props.massG)],
        ]}
      />
      <p class="hint">{t.gluedHint}</p>
    </>
  );
}

function Swaps(props: {
  readonly piece: Piece;
  readonly all: readonly PieceAt[];
  readonly heightMm: number;
  readonly glued: (otherGpa: Estimate) => Estimate;
}) {
  const t = woodWords().brace;
  const length = useLengthEstimate();
  const stick = shelfStickOf(props.piece);
  const others = props.all.filter(({ piece }) => piece.kind === 'brace-stock' && piece.id !== props.piece.id);
  const sticks = others.flatMap(({ piece }) => shelfStickOf(piece) ?? []);
  if (stick === undefined || sticks.length === 0) return <p class="hint">{t.noOther}</p>;
  const byId = new Map(others.map(({ piece }) => [piece.id, piece]));
  return (
    <Table
      label={t.standIns}
      head={[t.inItsPlace, t.heightAlone, t.heightGlued, t.massAgainst]}
      rows={stickSwaps(stick, { value: props.heightMm, sigma: 0 }, sticks).map((swap) => {
        const other = byId.get(swap.id);
        return [
          other?.name,
          length(swap.heightMm),
          length(props.glued(other?.reading?.eLongGpa ?? stick.eGpa)),
          withHalfWidth(scaled(swap.massRatio, 100), '%'),
        ];
      })}
    />
  );
}
