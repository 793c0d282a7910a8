// The box by ruler: its sizes, and the air's own resonance that follows from them.

import type { DeedName } from '../app/deeds.ts';
import { cavityOf, USUAL_VOLUME_DOUBT_PERCENT } from '../compare/box-cavity.ts';
import type { BoxCavity } from '../record/box-edit.ts';
import { changeStep, withField } from '../record/edit.ts';
import type { Climate, Step } from '../record/record.ts';
import { type BoxPartProps, noSizes, useBoxEdit } from './box-part.ts';
import { cavityNeedWords, listed, noVolumeWords } from './box-words.ts';
import { ChoiceField, type Measure, NumberField } from './fields.tsx';
import { number, parts, withHalfWidth } from './figures.ts';
import { useWorkshop } from './workshop-context.ts';

/** Inside measures of usual bodies, mm, to begin with. Common practice, no source. */
const usualBodies = {
  dreadnought: {
    bodyLengthMm: 500,
    lowerBoutMm: 391,
    waistMm: 271,
    upperBoutMm: 287,
    tailDepthMm: 116,
    neckDepthMm: 96,
  },
  concert: { bodyLengthMm: 486, lowerBoutMm: 377, waistMm: 237, upperBoutMm: 281, tailDepthMm: 99, neckDepthMm: 80 },
  parlour: { bodyLengthMm: 476, lowerBoutMm: 338, waistMm: 225, upperBoutMm: 245, tailDepthMm: 96, neckDepthMm: 80 },
  jumbo: { bodyLengthMm: 524, lowerBoutMm: 426, waistMm: 280, upperBoutMm: 314, tailDepthMm: 117, neckDepthMm: 95 },
} as const;

/** Units that have no other way to be shown. */
const units = ['m', 'litres', 'hPa'] as const;
type Unit = (typeof units)[number];
const isUnit = (measure: Measure | Unit): measure is Unit => units.some((unit) => unit === measure);

type NumberKey = {
  [K in keyof BoxCavity]-?: NonNullable<BoxCavity[K]> extends number ? K : never;
}[keyof BoxCavity];

export function BoxSizes({ record, step }: BoxPartProps) {
  const sizes = record.box?.cavity ?? noSizes;
  const edit = useBoxEdit();
  const change = (deed: DeedName, make: (cavity: BoxCavity) => BoxCavity) =>
    edit(deed, (box) => ({ ...box, cavity: make(box.cavity ?? noSizes) }));
  const field = (
    key: NumberKey,
    label: string,
    measure: Measure | Unit,
    least: number,
    most: number,
    hint?: string,
  ) => (
    <NumberField
      key={key}
      label={label}
      measure={isUnit(measure) ? 'plain' : measure}
      unit={isUnit(measure) ? measure : undefined}
      least={least}
      most={most}
      hint={hint}
      value={sizes[key]}
      onChange={(value) => change('box-size', (cavity) => withField(cavity, key, value))}
    />
  );
  return (
    <>
      <h1>The air in the box</h1>
      <section class="stand" aria-label="The air’s own resonance">
        <AirAnswer record={record} step={step} />
      </section>
      <section class="card">
        <h2>Sizes, measured inside</h2>
        <div class="fields">
          <ChoiceField
            label="Volume from"
            value={sizes.from}
            options={[
              ['outline', 'Outline and depths'],
              ['volume', 'A volume I measured'],
            ]}
            onChange={(from) => change('volume-from', (cavity) => ({ ...cavity, from }))}
          />
          {sizes.from === 'outline' && (
            <ChoiceField
              label="Begin from a usual body"
              value=""
              options={[['', 'Choose …'], ...Object.keys(usualBodies).map((name) => [name, name] as const)]}
              onChange={(name) => {
                const usual = Object.entries(usualBodies).find(([known]) => known === name)?.[1];
                if (usual !== undefined) change('usual-body', (cavity) => ({ ...cavity, ...usual }));
              }}
            />
          )}
        </div>
        {sizes.from === 'outline' ? (
          <div class="fields">
            {field('bodyLengthMm', 'Length of the body', 'mm', 200, 800)}
            {field('lowerBoutMm', 'Width at the lower bout', 'mm', 100, 600)}
            {field('waistMm', 'Width at the waist', 'mm', 80, 600)}
            {field('upperBoutMm', 'Width at the upper bout', 'mm', 80, 600)}
            {field('tailDepthMm', 'Depth at the tail', 'mm', 20, 250)}
            {field('neckDepthMm', 'Depth at the neck', 'mm', 20, 250)}
            {field('topDomeRadiusM', 'Dome of the top, radius', 'm', 1, 100, 'Empty: flat')}
            {field('backDomeRadiusM', 'Dome of the back, radius', 'm', 1, 100, 'Empty: flat')}
            {field('occupiedL', 'Blocks, linings, braces', 'litres', 0, 10, 'About half a litre is usual')}
          </div>
        ) : (
          <div class="fields">
            {field('volumeL', 'Air volume', 'litres', 1, 60, 'Filled with beads or rice and poured out again')}
            {field('tailDepthMm', 'Depth at the tail', 'mm', 20, 250, 'Only for “What if”: what a millimetre adds')}
            {field('neckDepthMm', 'Depth at the neck', 'mm', 20, 250)}
          </div>
        )}
        <div class="fields">
          {field(
            'volumeDoubtPercent',
            'Volume good to ±',
            'percent',
            0.2,
            30,
            `Empty: ${USUAL_VOLUME_DOUBT_PERCENT} %`,
          )}
          {field('holeRadiusMm', 'Radius of the hole', 'mm', 5, 100)}
          {field('holeEdgeMm', 'Top’s thickness at its rim', 'mm', 0, 15, 'With the rosette and its patch')}
        </div>
        <h2>The room</h2>
        {step === undefined && (
          <p class="hint">Temperature and humidity belong to the step “closed box”; begin it under Rounds.</p>
        )}
        <div class="fields">
          {step !== undefined && <RoomFields step={step} />}
          {field('pressureHpa', 'Air pressure at the bench', 'hPa', 600, 1100, 'Empty: sea level, 1013')}
        </div>
      </section>
    </>
  );
}

function AirAnswer({ record, step }: Pick<BoxPartProps, 'record' | 'step'>) {
  const cavity = cavityOf(record.box?.cavity, step?.climate);
  switch (cavity.kind) {
    case 'missing':
      return (
        <p class="verdict cannot-say">
          To say where the air rings, measure {listed(cavity.needs.map((need) => cavityNeedWords[need]))}.
        </p>
      );
    case 'no-volume':
      return (
        <p class="stop" role="alert">
          {noVolumeWords(cavity.emptyL, cavity.occupiedL)}
        </p>
      );
    case 'cavity': {
      const own = parts(cavity.ownHz, 1);
      const litres = { value: 1000 * cavity.volumeM3.value, sigma: 1000 * cavity.volumeM3.sigma };
      return (
        <>
          <p class="figure-value">
            <span class="figure-number">{own.value}</span>
            <span class="figure-unit">
              Hz
              <br />±{own.halfWidth}
            </span>
          </p>
          <p>
            The air by itself, with walls that do not move. The peak you will hear lies lower, because top and back give
            way.
          </p>
          <dl class="stand-figures">
            <div>
              <dt>Air volume</dt>
              <dd>{withHalfWidth(litres, 'litres')}</dd>
            </div>
            <div>
              <dt>Speed of sound</dt>
              <dd>{number(cavity.air.soundSpeedMPerS, 1)} m/s</dd>
            </div>
            <div>
              <dt>Room</dt>
              <dd>
                {cavity.climateAssumed
                  ? '20 °C, 50 % assumed where not noted'
                  : `${number(step!.climate.tempC!, 1)} °C, ${number(step!.climate.humidityPercent!, 0)} %`}
              </dd>
            </div>
          </dl>
        </>
      );
    }
  }
}

function RoomFields({ step }: { readonly step: Step }) {
  const { shelf } = useWorkshop();
  const change = (key: 'tempC' | 'humidityPercent', value: number | undefined) =>
    shelf.edit('air', (record) =>
      changeStep(record, step.id, (known) => ({
        ...known,
        climate: withField<Climate, typeof key>(known.climate, key, value),
      })),
    );
  return (
    <>
      <NumberField
        label="Temperature"
        measure="c"
        least={0}
        most={40}
        value={step.climate.tempC}
        onChange={(value) => change('tempC', value)}
      />
      <NumberField
        label="True humidity"
        measure="percent"
        least={0}
        most={100}
        hint="The hygrometer’s reading with its offset"
        value={step.climate.humidityPercent}
        onChange={(value) => change('humidityPercent', value)}
      />
    </>
  );
}
