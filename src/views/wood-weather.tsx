// What the weather does to a piece: its moisture now, its movement, and its modes carried to the reference climate.
import { airOf, modesOf } from '../compare/piece-reading.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { Piece } from '../record/record.ts';
import { climateEffect, REFERENCE_CLIMATE, toReferenceClimate } from '../wood/climate.ts';
import type { TapKind } from '../wood/hold-guide.ts';
import { type GrainDirection, moistureOf, widthMovementMm } from '../wood/moisture.ts';
import { speciesById } from '../wood/species.ts';
import { number, signed, withHalfWidth } from './figures.ts';
import { useLength } from './unit-words.ts';
import { useAir } from './use-air.ts';
import { tapWords } from './wood-words.ts';
import { useWorkshop } from './workshop-context.ts';

const directionOf: Readonly<Record<TapKind, GrainDirection>> = {
  'long-grain-bending': 'long',
  'cross-grain-bending': 'cross',
  twist: 'plate',
};

const percent = ({ value, sigma }: Estimate): Estimate => ({ value: 100 * (value - 1), sigma: 100 * sigma });

export function PieceWeather(props: { readonly piece: Piece }) {
  const { hygrometerSigmaPercent } = useWorkshop().preferences.settings.value;
  const mm = useLength();
  const say = useAir().one;
  const { piece } = props;
  const air = airOf(piece);
  if (air === undefined)
    return (
      <p>Note what the hygrometer read when the piece was tapped (above, under Air): without it nothing can be said.</p>
    );
  const moisture = moistureOf({ value: air.humidityPercent, sigma: hygrometerSigmaPercent }, air.tempC);
  const effect = (direction: GrainDirection) =>
    climateEffect(air, REFERENCE_CLIMATE, direction, hygrometerSigmaPercent);
  const species = speciesById(piece.species);
  const radial = species?.shrinkage?.radialPercent.value;
  const modes = Object.entries(modesOf(piece)) as [TapKind, { frequencyHz: Estimate }][];
  const movement =
    radial === undefined || piece.widthMm === undefined
      ? undefined
      : [30, 60].map((humidityPercent) => ({
          humidityPercent,
          mm: widthMovementMm(
            piece.widthMm!.value,
            radial,
            moisture.value,
            moistureOf({ value: humidityPercent, sigma: 0 }, air.tempC).value,
          ),
        }));
  return (
    <>
      <p>
        At {say(air)} the wood comes to rest at {withHalfWidth(moisture, '%')} moisture (the handbook's formula is good
        to about 1 %). It takes days to weeks to get there.
      </p>
      {modes.length > 0 && (
        <section class="scroll" tabIndex={0} aria-label="At the reference climate">
          <table>
            <thead>
              <tr>
                <th>Mode</th>
                <th>Measured</th>
                <th>At {say(REFERENCE_CLIMATE)}</th>
                <th>Change</th>
              </tr>
            </thead>
            <tbody>
              {modes.map(([kind, { frequencyHz }]) => (
                <tr key={kind}>
                  <th scope="row">{tapWords[kind]}</th>
                  <td>{withHalfWidth(frequencyHz, 'Hz')}</td>
                  <td>
                    {withHalfWidth(
                      toReferenceClimate(
                        frequencyHz,
                        air,
                        directionOf[kind],
                        REFERENCE_CLIMATE,
                        hygrometerSigmaPercent,
                      ),
                      'Hz',
                    )}
                  </td>
                  <td>{signed(percent(effect(directionOf[kind]).frequencyRatio), '%')}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      <p>
        Carried there, its mass changes by {signed(percent(effect('long').massRatio), '%')}, its stiffness along the
        grain by {signed(percent(effect('long').modulusRatio), '%')}, across by{' '}
        {signed(percent(effect('cross').modulusRatio), '%')}.
      </p>
      <p>
        {movement === undefined
          ? 'Movement across the width: not known here, the handbook has no shrinkage for this wood.'
          : `Across its width it moves by ${movement.map((each) => `${each.mm > 0 ? '+' : ''}${mm(each.mm)} at ${number(each.humidityPercent, 0)} %RH`).join(' and ')}, quartersawn.`}
      </p>
    </>
  );
}
