// What a brace stick is by its two taps, and what it is worth as a brace: alone, glued to a plate, in another's place.
import { useState } from 'preact/hooks';
import type { PieceAt } from '../app/stock.ts';
import { modesOf, shelfStickOf, sizesOf, stickMethod } from '../compare/piece-reading.ts';
import type { Piece } from '../record/record.ts';
import { equalGluedHeightM } from '../wood/equal-glued-height.ts';
import { stickSwaps } from '../wood/matching.ts';
import { bracedStripStiffness, type SectionShape } from '../wood/section.ts';
import { type StickConstants, stickConstants, stickDoubts } from '../wood/stick.ts';
import { ChoiceField, NumberField } from './fields.tsx';
import { number, withHalfWidth } from './figures.ts';
import { useLength, useLengthEstimate } from './unit-words.ts';
import { useAllPieces } from './wood-all-pieces.ts';
import { useChangePiece } from './wood-piece-form.tsx';
import { BigFigure } from './wood-reading.tsx';
import { betterWords, doubtWords, stickInputWords } from './wood-words.ts';
import { useWorkshop } from './workshop-context.ts';

export function StickReadingOf(props: { readonly piece: Piece }) {
  const { piece } = props;
  const stick = sizesOf(piece);
  const modes = modesOf(piece);
  const bending = modes['long-grain-bending'];
  if (stick === undefined) return null;
  if (bending === undefined)
    return <p>Still to be tapped: the bending. With the twist too, the shear needs no handbook.</p>;
  const constants = stickConstants(stick, bending.frequencyHz, modes.twist?.frequencyHz ?? null);
  return <StickFigures piece={piece} constants={constants} />;
}

function StickFigures(props: { readonly piece: Piece; readonly constants: StickConstants }) {
  const { nowIso } = useWorkshop();
  const { piece, constants } = props;
  const change = useChangePiece(piece.id);
  const { densityKgM3, eGpa, gGpa } = constants;
  const isKept =
    piece.reading?.eLongGpa?.value === eGpa.value && piece.reading.densityKgM3?.value === densityKgM3.value;
  const worst = eGpa.contributions[0]?.input;
  const better = worst === undefined ? undefined : betterWords(worst);
  const plain = ({ value, sigma }: { readonly value: number; readonly sigma: number }) => ({ value, sigma });
  const keep = () => {
    const q = modesOf(piece)['long-grain-bending']?.q;
    change('reading', (p) => ({
      ...p,
      reading: {
        method: stickMethod,
        atIso: nowIso(),
        densityKgM3: plain(densityKgM3),
        eLongGpa: plain(eGpa),
        ...(gGpa === null ? {} : { gGpa: plain(gGpa) }),
        ...(q === undefined ? {} : { qLong: plain(q) }),
      },
    }));
  };
  return (
    <>
      {stickDoubts(constants).map((doubt) => (
        <p class="stop" role="alert" key={doubt}>
          {doubtWords[doubt]}
        </p>
      ))}
      <ul class="figures">
        <BigFigure label="E along the grain" unit="GPa" value={eGpa} />
        <BigFigure label="Density" unit="kg/m³" value={densityKgM3} />
        {gGpa !== null && <BigFigure label="Shear modulus G" unit="GPa" value={gGpa} />}
        <BigFigure label="Stiffness for weight, E/ρ" unit="10⁶ m²/s²" value={constants.specificModulus} />
      </ul>
      <div class="actions">
        <button type="button" class="primary big" disabled={isKept} onClick={keep}>
          {isKept ? 'Kept with the piece' : 'Keep this reading'}
        </button>
      </div>
      <p>
        Speed of sound along the grain {withHalfWidth(constants.speedMS, 'm/s')}; shear made E{' '}
        {number(100 * (constants.shearFactor - 1), 1)} % higher than the bare formula.
      </p>
      {worst !== undefined && (
        <p>
          <strong>What to measure better:</strong> most of the doubt in E comes from {stickInputWords[worst]}.{' '}
          {better === undefined ? '' : `${better}.`}
        </p>
      )}
    </>
  );
}

const shapes: readonly (readonly [SectionShape, string])[] = [
  ['rectangle', 'Rectangular'],
  ['parabola', 'Parabolic'],
  ['triangle', 'Triangular'],
  ['half-ellipse', 'Half round'],
];

/** A brace made of this stick: stiffness glued to its strip of plate, and which other stick could stand in for it. */
export function BraceOf(props: { readonly piece: Piece }) {
  const all = useAllPieces();
  const mm = useLength();
  const [shape, setShape] = useState<SectionShape>('parabola');
  const [heightMm, setHeight] = useState(14);
  const [lowMm, setLow] = useState(6);
  const [widthMm, setWidth] = useState(8);
  const [plateMm, setPlate] = useState(2.8);
  const [stripMm, setStrip] = useState(40);
  const [plateGpa, setPlateGpa] = useState(1);
  const stick = shelfStickOf(props.piece);
  if (stick === undefined) return <p>Tap the stick and keep its reading first.</p>;
  const strip = { widthM: stripMm / 1000, thicknessM: plateMm / 1000, modulusPa: plateGpa * 1e9 };
  const brace = (height: number) => ({
    shape,
    widthM: widthMm / 1000,
    heightM: height / 1000,
    modulusPa: stick.eGpa.value * 1e9,
  });
  const taken = (set: (value: number) => void) => (value: number | undefined) => value !== undefined && set(value);
  const size = (label: string, value: number, set: (value: number) => void, most: number, least = 0.5) => (
    <NumberField label={label} measure="mm" least={least} most={most} value={value} onChange={taken(set)} />
  );
  return (
    <>
      <div class="fields">
        <ChoiceField label="Profile" value={shape} options={shapes} onChange={setShape} />
        {size('Height', heightMm, setHeight, 60)}
        {size('Height in the scallop or taper', lowMm, setLow, 60, 0)}
        {size('Width of the brace', widthMm, setWidth, 40)}
        {size('Plate under it', plateMm, setPlate, 10)}
        {size('Strip of plate that goes along', stripMm, setStrip, 400)}
        <NumberField
          label="E of the plate along the brace, GPa"
          hint="Across the grain about 1, along it about 12"
          measure="plain"
          least={0.05}
          most={40}
          value={plateGpa}
          onChange={taken(setPlateGpa)}
        />
      </div>
      <dl class="stand-figures">
        <Stiffness
          label={`Stiffness EI at ${mm(heightMm)}`}
          nm2={bracedStripStiffness(brace(heightMm), strip).bendingNm2}
        />
        <Stiffness label={`At ${mm(lowMm)}`} nm2={bracedStripStiffness(brace(lowMm), strip).bendingNm2} />
        <Stiffness label="Bare strip" nm2={bracedStripStiffness(brace(0), strip).bendingNm2} />
      </dl>
      <Swaps
        piece={props.piece}
        all={all}
        heightMm={heightMm}
        glued={(gpa) => 1000 * equalGluedHeightM(brace(heightMm), strip, gpa * 1e9)}
      />
    </>
  );
}

function Stiffness(props: { readonly label: string; readonly nm2: number }) {
  return (
    <div>
      <dt>{props.label}</dt>
      <dd>{number(props.nm2, 2)} N m²</dd>
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
