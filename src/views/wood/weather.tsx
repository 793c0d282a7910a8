// What the weather does to a piece: its moisture now, its movement, and its modes carried to the reference climate.

import { airOf, modesOf } from '../../compare/piece-reading.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { Piece } from '../../record/record.ts';
import { climateEffect, REFERENCE_CLIMATE, toReferenceClimate } from '../../wood/climate.ts';
import type { TapKind } from '../../wood/hold-guide.ts';
import { type GrainDirection, moistureOf, widthMovementMm } from '../../wood/moisture.ts';
import { speciesById } from '../../wood/species.ts';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { useLength } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { useAir } from '../parts/use-air.ts';
import { useWorkshop } from '../workshop-context.ts';
import { tapWords, woodWords } from './words.ts';

const directionOf: Readonly<Record<TapKind, GrainDirection>> = {
  'long-grain-bending': 'long',
  'cross-grain-bending': 'cross',
  twist: 'plate',
};

const percent = ({ value, sigma }: Estimate): Estimate => ({ value: 100 * (value - 1), sigma: 100 * sigma });

export function PieceWeather(props: { readonly piece: Piece }) {
  const { hygrometerSigmaPercent } = useWorkshop().preferences.settings.value;
  const t = woodWords().weather;
  const mm = useLength(3);
  const say = useAir().one;
  const { piece } = props;
  const air = airOf(piece);
  if (air === undefined) return <p>{t.noAir}</p>;
  const moisture = moistureOf({ value: air.humidityPercent, sigma: hygrometerSigmaPercent }, air.tempC);
  const effect = (direction: GrainDirection) =>
    climateEffect(air, REFERENCE_CLIMATE, direction, hygrometerSigmaPercent);
  const species = speciesById(piece.species);
  const radial = species?.shrinkage?.radialPercent.value;
  const modes = Object.entries(modesOf(piece)) as [TapKind, { frequencyHz: Estimate }][];
  const movement =
    radial === undefined || piece.widthMm === undefined
      ? undefined
      : [30, 60].map((humidityPercent) => {
          const moved = widthMovementMm(
            piece.widthMm!.value,
            radial,
            moisture.value,
            moistureOf({ value: humidityPercent, sigma: 0 }, air.tempC).value,
          );
          return t.movesAt(`${moved > 0 ? '+' : ''}${mm(moved)}`, number(humidityPercent, 0));
        });
  return (
    <>
      <p>{t.rests(say(air), withHalfWidth(moisture, '%'))}</p>
      {modes.length > 0 && (
        <Table
          label={t.tableLabel}
          head={[t.mode, t.measured, t.at(say(REFERENCE_CLIMATE)), t.change]}
          rows={modes.map(([kind, { frequencyHz }]) => [
            tapWords[kind],
            withHalfWidth(frequencyHz, 'Hz'),
            withHalfWidth(
              toReferenceClimate(frequencyHz, air, directionOf[kind], REFERENCE_CLIMATE, hygrometerSigmaPercent),
              'Hz',
            ),
            signed(percent(effect(directionOf[kind]).frequencyRatio), '%'),
          ])}
        />
      )}
      <p>
        {t.carried(
          say(REFERENCE_CLIMATE),
          signed(percent(effect('long').massRatio), '%'),
          signed(percent(effect('long').modulusRatio), '%'),
          signed(percent(effect('cross').modulusRatio), '%'),
        )}
      </p>
      <p>{movement !== undefined ? t.moves(movement) : radial === undefined ? t.noShrinkage : t.noWidth}</p>
    </>
  );
}
