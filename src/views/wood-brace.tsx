// What a stick is worth as a brace: level, tapered or scalloped, glued to its strip of plate; and which other could stand in.
import type { PieceAt } from '../app/stock.ts';
import { shelfStickOf } from '../compare/piece-reading.ts';
import { shapedProfile } from '../record/plan-profile.ts';
import type { Piece } from '../record/record.ts';
import { type BraceAlong, type BraceStation, braceAlong } from '../wood/brace-profile.ts';
import { equalGluedHeightM } from '../wood/equal-glued-height.ts';
import { stickSwaps } from '../wood/matching.ts';
import { bracedStripStiffness } from '../wood/section.ts';
import { ChoiceField, NumberField } from './fields.tsx';
import { number } from './figures.ts';
import { ProfileDrawing } from './plan-profile.tsx';
import { useLength, useLengthEstimate, useMass } from './unit-words.ts';
import { useAllPieces } from './wood-all-pieces.ts';
import { useChangePiece } from './wood-piece-form.tsx';

type Use = NonNullable<Piece['brace']>;

const sections: readonly (readonly [Use['section'], string])[] = [
  ['rectangle', 'Rectangular'],
  ['parabola', 'Parabolic'],
  ['triangle', 'Triangular'],
  ['half-ellipse', 'Half round'],
];

const shapes = [
  ['level', 'Level'],
  ['tapered', 'Tapered at the ends'],
  ['scalloped', 'Scalloped'],
  ['parabolic', 'Arched'],
] as const;

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

/** A brace made of this stick: stiffness glued to its strip of plate, and which other stick could stand in for it. */
export function BraceOf(props: { readonly piece: Piece }) {
  const { piece } = props;
  const all = useAllPieces();
  const change = useChangePiece(piece.id);
  const stick = shelfStickOf(piece);
  if (stick === undefined) return <p>Tap the stick and keep its reading first.</p>;
  const use = piece.brace ?? beginning(piece);
  const set = (part: Partial<Use>) => change('brace-wood', (p) => ({ ...p, brace: { ...use, ...part } }));
  const strip = { widthM: use.stripMm / 1000, thicknessM: use.plateMm / 1000, modulusPa: use.plateGpa * 1e9 };
  const brace = { shape: use.section, widthM: use.widthMm / 1000, modulusPa: stick.eGpa.value * 1e9 };
  const along = braceAlong(brace, strip, use.stations);
  const heightMm = Math.max(0, ...use.stations.map((station) => station.heightMm));
  const size = (key: 'widthMm' | 'plateMm' | 'stripMm', label: string, most: number) => (
    <NumberField
      label={label}
      measure="mm"
      least={0.5}
      most={most}
      value={use[key]}
      onChange={(value) => value !== undefined && set({ [key]: value })}
    />
  );
  return (
    <>
      <div class="fields">
        <ChoiceField label="Section" value={use.section} options={sections} onChange={(section) => set({ section })} />
        {size('widthMm', 'Width of the brace', 40)}
        {size('plateMm', 'Plate under it', 10)}
        {size('stripMm', 'Strip of plate that goes along', 400)}
        <NumberField
          label="E of the plate along the brace, GPa"
          hint="Across the grain about 1, along it about 12"
          measure="plain"
          least={0.05}
          most={40}
          value={use.plateGpa}
          onChange={(plateGpa) => plateGpa !== undefined && set({ plateGpa })}
        />
      </div>
      <Stations use={use} along={along} onChange={(stations) => set({ stations: [...stations] })} />
      {along === null ? (
        <p class="note">The stations lie in one place: a brace needs two at least, some way apart.</p>
      ) : (
        <Whole
          along={along}
          bareNm2={bracedStripStiffness({ ...brace, heightM: 0 }, strip).bendingNm2}
          massG={along.volumeM3 * stick.densityKgM3.value * 1000}
        />
      )}
      {heightMm > 0 && (
        <Swaps
          piece={piece}
          all={all}
          heightMm={heightMm}
          glued={(gpa) => 1000 * equalGluedHeightM({ ...brace, heightM: heightMm / 1000 }, strip, gpa * 1e9)}
        />
      )}
    </>
  );
}

function Stations(props: {
  readonly use: Use;
  readonly along: BraceAlong | null;
  readonly onChange: (stations: readonly BraceStation[]) => void;
}) {
  const { onChange, along } = props;
  const stations = props.use.stations.toSorted((a, b) => a.atMm - b.atMm);
  const lengthMm = (stations.at(-1)?.atMm ?? 0) - (stations[0]?.atMm ?? 0);
  const highest = Math.max(1, ...stations.map((station) => station.heightMm));
  const last = stations.at(-1);
  return (
    <>
      <h3>Heights along it</h3>
      <div class="actions">
        {shapes.map(([shape, words]) => (
          <button
            key={shape}
            type="button"
            disabled={!(lengthMm > 0)}
            onClick={() => onChange(shapedProfile(shape, lengthMm, highest, Math.min(endMm, highest)))}
          >
            {words}
          </button>
        ))}
      </div>
      {stations[0]?.atMm === 0 && lengthMm > 0 && (
        <ProfileDrawing
          brace={{
            name: 'the brace',
            from: { xMm: 0, yMm: 0 },
            to: { xMm: lengthMm, yMm: 0 },
            profile: stations,
            floors: [],
          }}
        />
      )}
      <section class="scroll" tabIndex={0} aria-label="Heights along the brace">
        <table class="stations">
          <thead>
            <tr>
              <th>Along it</th>
              <th>Height</th>
              <th>EI there</th>
              <th></th>
            </tr>
          </thead>
          <tbody>
            {stations.map((station, k) => (
              <tr key={k}>
                <td>
                  <NumberField
                    label={`Station ${k + 1}, along it`}
                    shortLabel=""
                    measure="mm"
                    least={0}
                    most={900}
                    value={station.atMm}
                    onChange={(atMm) => atMm !== undefined && onChange(stations.with(k, { ...station, atMm }))}
                  />
                </td>
                <td>
                  <NumberField
                    label={`Station ${k + 1}, height`}
                    shortLabel=""
                    measure="mm"
                    least={0}
                    most={60}
                    value={station.heightMm}
                    onChange={(heightMm) =>
                      heightMm !== undefined && onChange(stations.with(k, { ...station, heightMm }))
                    }
                  />
                </td>
                <td>{along === null ? '–' : `${number(along.stations[k]!.bendingNm2, 2)} N m²`}</td>
                <td>
                  {stations.length > 2 && (
                    <button type="button" class="quiet" onClick={() => onChange(stations.toSpliced(k, 1))}>
                      Remove
                    </button>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <div class="actions">
        <button
          type="button"
          onClick={() => onChange([...stations, { atMm: (last?.atMm ?? 0) + 20, heightMm: last?.heightMm ?? 10 }])}
        >
          One more station
        </button>
      </div>
    </>
  );
}

function Whole(props: { readonly along: BraceAlong; readonly bareNm2: number; readonly massG: number }) {
  const g = useMass();
  const all = props.along.stations.map(({ bendingNm2 }) => bendingNm2);
  return (
    <>
      <dl class="stand-figures">
        <Figure label="Pressed in its middle it is like an even brace of EI" text={nm2(props.along.evenNm2)} />
        <Figure label="Stiffest station" text={nm2(Math.max(...all))} />
        <Figure label="Softest station" text={nm2(Math.min(...all))} />
        <Figure label="Bare strip of plate" text={nm2(props.bareNm2)} />
        <Figure label="Mass of the brace" text={g(props.massG)} />
      </dl>
      <p class="hint">Glued to its strip without slip, on supports at both ends. What it carries is not said by EI.</p>
    </>
  );
}

const nm2 = (value: number): string => `${number(value, 2)} N m²`;

function Figure(props: { readonly label: string; readonly text: string }) {
  return (
    <div>
      <dt>{props.label}</dt>
      <dd>{props.text}</dd>
    </div>
  );
}

function Swaps(props: {
  readonly piece: Piece;
  readonly all: readonly PieceAt[];
  readonly heightMm: number;
  readonly glued: (otherGpa: number) => number;
}) {
  const mm = useLength();
  const length = useLengthEstimate();
  const stick = shelfStickOf(props.piece);
  const others = props.all.filter(({ piece }) => piece.kind === 'brace-stock' && piece.id !== props.piece.id);
  const sticks = others.flatMap(({ piece }) => shelfStickOf(piece) ?? []);
  if (stick === undefined || sticks.length === 0)
    return (
      <p class="hint">
        No other measured stick yet: once there is one, it says how high it must be in this one's place.
      </p>
    );
  const byId = new Map(others.map(({ piece }) => [piece.id, piece]));
  return (
    <section class="scroll" tabIndex={0} aria-label="Sticks that could stand in">
      <table>
        <thead>
          <tr>
            <th>In its place</th>
            <th>Height alone</th>
            <th>Height glued</th>
            <th>Mass against this one</th>
          </tr>
        </thead>
        <tbody>
          {stickSwaps(stick, { value: props.heightMm, sigma: 0 }, sticks).map((swap) => {
            const other = byId.get(swap.id);
            return (
              <tr key={swap.id}>
                <th scope="row">{other?.name}</th>
                <td>{length(swap.heightMm)}</td>
                <td>{mm(props.glued(other?.reading?.eLongGpa?.value ?? stick.eGpa.value))}</td>
                <td>{number(100 * swap.massRatio, 0)} %</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
