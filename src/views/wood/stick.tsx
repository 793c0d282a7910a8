// What a brace stick is by its two taps.

import { keptStickReading, modesOf, sizesOf } from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import { type StickConstants, stickConstants, stickDoubts } from '../../wood/stick.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { useChangePiece } from './piece-form.tsx';
import { BigFigure } from './reading.tsx';
import { woodWords } from './words.ts';

export function StickReadingOf(props: { readonly piece: Piece }) {
  const { piece } = props;
  const stick = sizesOf(piece);
  const modes = modesOf(piece);
  const bending = modes['long-grain-bending'];
  if (stick === undefined) return null;
  if (bending === undefined) return <p>{woodWords().stick.stillToTap}</p>;
  const constants = stickConstants(stick, bending.frequencyHz, modes.twist?.frequencyHz);
  return <StickFigures piece={piece} constants={constants} />;
}

function StickFigures(props: { readonly piece: Piece; readonly constants: StickConstants }) {
  const { nowIso } = useWorkshop();
  const { piece, constants } = props;
  const change = useChangePiece(piece.id);
  const { stick: t, reading, codes } = woodWords();
  const { densityKgM3, eGpa, gGpa } = constants;
  const isKept =
    piece.reading?.eLongGpa?.value === eGpa.value && piece.reading.densityKgM3?.value === densityKgM3.value;
  const worst = eGpa.contributions[0]?.input;
  const keep = () => change('reading', (p) => ({ ...p, reading: keptStickReading(p, constants, nowIso()) }));
  return (
    <>
      {stickDoubts(constants).map((doubt) => (
        <p class="stop" role="alert" key={doubt}>
          {codes.doubts[doubt]}
        </p>
      ))}
      <ul class="figures">
        <BigFigure label={words.quantities.modulusAlong} unit="GPa" value={eGpa} />
        <BigFigure label={words.quantities.density} unit="kg/m³" value={densityKgM3} />
        {gGpa !== undefined && <BigFigure label={words.quantities.shearModulus} unit="GPa" value={gGpa} />}
        <BigFigure label={t.stiffnessForWeight} unit="10⁶ m²/s²" value={constants.specificModulus} />
      </ul>
      <Actions>
        <Button kind="primary" isBig text={isKept ? reading.kept : reading.keep} isDisabled={isKept} onPress={keep} />
      </Actions>
      <p>{t.speed(withHalfWidth(constants.speedMS, 'm/s'), number(100 * (constants.shearFactor - 1), 1))}</p>
      {worst !== undefined && (
        <p>
          <strong>{codes.measureBetter}</strong> {codes.betterStick(worst)}
        </p>
      )}
    </>
  );
}
