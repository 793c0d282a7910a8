// What the dome will do when the season turns.
import { useState } from 'preact/hooks';
import type { PieceAt } from '../../app/stock.ts';
import { shelfBoardOf, shelfStickOf, startOf } from '../../compare/piece-reading.ts';
import type { QuantityName } from '../../record/quantities.ts';
import { domeChanges } from '../../wood/gluing.ts';
import { SPECIES, speciesById } from '../../wood/species.ts';
import { Card } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { Facts } from '../parts/figure.tsx';
import { number } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useLengthEstimate } from '../parts/own-units.ts';
import { useAllPieces } from './all-pieces.ts';
import { speciesWord, woodWords } from './words.ts';

const radialOf = (species: string): number | undefined => speciesById(species)?.shrinkage?.radialPercent.value;

export function Dome(props: { readonly humidityPercent: number; readonly tempC: number; readonly isToday: boolean }) {
  const t = woodWords().gluing;
  const length = useLengthEstimate();
  const all = useAllPieces();
  const boards = all.filter(({ piece }) => shelfBoardOf(piece) !== undefined && radialOf(piece.species) !== undefined);
  const sticks = all.filter(({ piece }) => piece.kind === 'brace-stock' && shelfStickOf(piece) !== undefined);
  // Measured wood first, else the handbook's: 'board id' or 'species id'
  const [plateChoice, setPlateChoice] = useState<string | undefined>(undefined);
  const [braceChoice, setBraceChoice] = useState<string | undefined>(undefined);
  const plateFrom = plateChoice ?? boards[0]?.piece.id ?? 'sitka-spruce';
  const braceFrom = braceChoice ?? sticks[0]?.piece.id ?? 'sitka-spruce';
  const board = boards.find(({ piece }) => piece.id === plateFrom)?.piece;
  const stick = sticks.find(({ piece }) => piece.id === braceFrom)?.piece;
  const [plateMm, setPlate] = useState(2.8);
  const [stripMm, setStrip] = useState(120);
  const [heightMm, setHeight] = useState(14);
  const [widthMm, setWidth] = useState(8);
  const [spanMm, setSpan] = useState(380);
  const handbook = SPECIES.filter((known) => known.shrinkage !== undefined).map(
    ({ id }) => [id, t.handbook(speciesWord(id))] as const,
  );
  const named = (pieces: readonly PieceAt[]) =>
    pieces.map(({ piece, recordName }) => [piece.id, t.measured(piece.name, recordName)] as const);
  const eCrossPa =
    board === undefined ? startOf({ species: plateFrom }).eCrossPa.value : shelfBoardOf(board)!.eCrossGpa.value * 1e9;
  const eLongPa =
    stick === undefined ? startOf({ species: braceFrom }).eLongPa.value : shelfStickOf(stick)!.eGpa.value * 1e9;
  const changes = domeChanges(
    {
      plate: { thicknessM: plateMm / 1000, stripWidthM: stripMm / 1000, eCrossPa },
      brace: { heightM: heightMm / 1000, widthM: widthMm / 1000, eLongPa },
      fullShrinkagePercent: radialOf(board?.species ?? plateFrom) ?? 0,
    },
    spanMm / 1000,
    { tempC: props.tempC, humidityPercent: Math.min(99, Math.max(0, props.humidityPercent)) },
  );
  const size = (of: QuantityName, value: number, set: (value: number) => void) => (
    <NumberField {...(of === 'plateThickness' ? { label: t.plate } : {})} of={of} value={value} onSet={set} />
  );
  return (
    <Card title={t.dome}>
      <p>{t.gluedAt(number(props.humidityPercent, 0), props.isToday)}</p>
      <Facts
        of={[
          ...changes.map(
            (change) =>
              [
                t.middleAt(number(change.humidityPercent, 0)),
                `${change.riseMm.value > 0 ? '+' : ''}${length(change.riseMm)}`,
              ] as const,
          ),
        ]}
      />
      <p class="hint">{t.domeHint}</p>
      <details>
        <summary>{t.plateAndBrace}</summary>
        <div class="fields">
          <ChoiceField
            label={t.plateWood}
            hint={t.eAcross(number(eCrossPa / 1e9, 2))}
            value={plateFrom}
            options={[...named(boards), ...handbook]}
            onChange={setPlateChoice}
          />
          <ChoiceField
            label={t.braceWood}
            hint={woodWords().eAlongIs(number(eLongPa / 1e9, 1))}
            value={braceFrom}
            options={[...named(sticks), ...handbook]}
            onChange={setBraceChoice}
          />
        </div>
        <div class="fields">
          {size('plateThickness', plateMm, setPlate)}
          {size('stripWidth', stripMm, setStrip)}
          {size('wholeBraceHeight', heightMm, setHeight)}
          {size('wholeBraceWidth', widthMm, setWidth)}
          {size('domeSpan', spanMm, setSpan)}
        </div>
      </details>
    </Card>
  );
}
