// What a brace stick is by its two taps.
import { keptStickReading, modesOf, sizesOf } from '../compare/piece-reading.ts';
import type { Piece } from '../record/record.ts';
import { type StickConstants, stickConstants, stickDoubts } from '../wood/stick.ts';
import { number, withHalfWidth } from './figures.ts';
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
  const keep = () => change('reading', (p) => ({ ...p, reading: keptStickReading(p, constants, nowIso()) }));
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
