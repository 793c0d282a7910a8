// What a stick is worth as a brace: level, tapered or scalloped, glued to its strip of plate; and which other could stand in.

import type { PieceAt } from '../../app/stock.ts';
import { type BraceAlong, braceAlong, type StationedBrace } from '../../brace/brace-along.ts';
import { equalGluedHeightM } from '../../brace/equal-glued-height.ts';
import { bracedStripStiffness, type PlateStrip } from '../../brace/glued-strip.ts';
import { type ProfilePlace, shapedProfile } from '../../brace/profile.ts';
import { shelfStickOf } from '../../compare/piece-reading.ts';
import { type Estimate, propagated, scaled } from '../../quantity/estimate.ts';
import type { QuantityName } from '../../record/quantities.ts';
import type { Piece } from '../../record/record.ts';
import { stickSwaps } from '../../wood/matching.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { Facts } from '../parts/figure.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useLengthEstimate, useMassEstimate } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { ProfileDrawing } from '../plan/profile.tsx';
import { useAllPieces } from './all-pieces.ts';
import { useChangePiece } from './piece-form.tsx';
import { woodWords } from './words.ts';

type Use = NonNullable<Piece['brace']>;

const shapes = ['level', 'tapered', 'scalloped', 'parabolic'] as const;

/** Height to begin with, and of the ends of the shapes, mm. Common practice, no source. */
const beginHeightMm = 14;
const endMm = 3;

const beginning = (piece: Piece): Use => ({
  section: 'parabola',
  widthMm: 8,
  stations: [...shapedProfile('level', Math.round(piece.lengthMm?.value ?? 400), beginHeightMm, endMm)],
  plateMm: 2.8,
  stripMm: 40,
  plateGpa: 1,
});

/** A brace along its length, with the doubt of its wood. */
interface MeasuredAlong {
  readonly stationsNm2: readonly Estimate[];
  readonly evenNm2: Estimate;
  readonly volumeM3: number;
}

/** The stiffness of a brace along its length within the doubt of its stick's modulus; null where it has no length. */
function alongOf(
  bare: Omit<StationedBrace, 'modulusPa'>,
  strip: PlateStrip,
  stations: Use['stations'],
  eGpa: Estimate,
): MeasuredAlong | null {
  const at = (sigmas: number) =>
    braceAlong({ ...bare, modulusPa: (eGpa.value + sigmas * eGpa.sigma) * 1e9 }, strip, stations);
  const [along, stiffer, softer] = [at(0), at(1), at(-1)];
  if (along === null || stiffer === null || softer === null) return null;
  const within = (of: (along: BraceAlong) => number) => ({
    value: of(along),
    sigma: Math.abs(of(stiffer) - of(softer)) / 2,
  });
  return {
    stationsNm2: along.stations.map((_, k) => within(({ stations: all }) => all[k]!.bendingNm2)),
    evenNm2: within(({ evenNm2 }) => evenNm2),
    volumeM3: along.volumeM3,
  };
}

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
    <NumberField label={t[key]} of={of} value={use[key]} onSet={(value) => set({ [key]: value })} />
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
        {size('widthMm', 'braceWidth')}
        {size('plateMm', 'plateThickness')}
        {size('stripMm', 'stripWidth')}
        <NumberField
          label={t.plateModulus}
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

function Stations(props: {
  readonly use: Use;
  readonly along: MeasuredAlong | null;
  readonly onChange: (stations: readonly ProfilePlace[]) => void;
}) {
  const { onChange, along } = props;
  const t = woodWords().brace;
  const stations = props.use.stations.toSorted((a, b) => a.atMm - b.atMm);
  const lengthMm = (stations.at(-1)?.atMm ?? 0) - (stations[0]?.atMm ?? 0);
  const highest = Math.max(1, ...stations.map((station) => station.heightMm));
  const last = stations.at(-1);
  return (
    <>
      <h3>{t.heights}</h3>
      <Actions>
        {shapes.map((shape) => (
          <Button
            key={shape}
            text={t.shapes[shape]}
            isDisabled={!(lengthMm > 0)}
            onPress={() => onChange(shapedProfile(shape, lengthMm, highest, Math.min(endMm, highest)))}
          />
        ))}
      </Actions>
      {stations[0]?.atMm === 0 && lengthMm > 0 && (
        <ProfileDrawing
          brace={{
            name: t.theBrace,
            from: { xMm: 0, yMm: 0 },
            to: { xMm: lengthMm, yMm: 0 },
            profile: stations,
            floors: [],
          }}
        />
      )}
      <Table
        label={t.heightsLabel}
        class="stations"
        head={[t.along, t.height, t.stiffnessThere, '']}
        rows={stations.map((station, k) => [
          <NumberField
            label={t.stationAlong(k + 1)}
            of="placeAlongBrace"
            shortLabel=""
            value={station.atMm}
            onSet={(atMm) => onChange(stations.with(k, { ...station, atMm }))}
          />,
          <NumberField
            label={t.stationHeight(k + 1)}
            of="braceHeight"
            shortLabel=""
            value={station.heightMm}
            onSet={(heightMm) => onChange(stations.with(k, { ...station, heightMm }))}
          />,
          along === null ? '–' : nm2(along.stationsNm2[k]!),
          stations.length > 2 && (
            <Button kind="quiet" text={t.remove} onPress={() => onChange(stations.toSpliced(k, 1))} />
          ),
        ])}
      />
      <Actions>
        <Button
          text={t.oneMore}
          onPress={() => onChange([...stations, { atMm: (last?.atMm ?? 0) + 20, heightMm: last?.heightMm ?? 10 }])}
        />
      </Actions>
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

const nm2 = (stiffness: Estimate): string => withHalfWidth(stiffness, 'N m²');

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
