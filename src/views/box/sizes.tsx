// The box by ruler: its sizes, and the air's own resonance that follows from them.

import type { EditName } from '../../app/edits.ts';
import { cavityOf, USUAL_VOLUME_DOUBT_PERCENT } from '../../compare/box-cavity.ts';
import type { BoxCavity } from '../../record/box-edit.ts';
import { changeStep, withField } from '../../record/edit.ts';
import type { QuantityName } from '../../record/quantities.ts';
import type { ClimateNote, Step } from '../../record/record.ts';
import { Card } from '../parts/card.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { Facts, LargeFigure } from '../parts/figure.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useAir } from '../parts/use-air.ts';
import { words } from '../words/language.ts';
import { useEditRecord } from '../workshop-context.ts';
import { type BoxPartProps, noSizes, useBoxEdit } from './part.ts';
import { boxWords } from './words.ts';

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

/** The sizes that are numbers, and what each is; in the order in which they are asked for. */
const sizesOf = {
  outline: [
    ['bodyLengthMm', 'bodyLength'],
    ['lowerBoutMm', 'lowerBout'],
    ['waistMm', 'waist'],
    ['upperBoutMm', 'upperBout'],
    ['tailDepthMm', 'tailDepth'],
    ['neckDepthMm', 'neckDepth'],
    ['topDomeRadiusM', 'topDomeRadius'],
    ['backDomeRadiusM', 'backDomeRadius'],
    ['occupiedL', 'occupiedVolume'],
  ],
  volume: [
    ['volumeL', 'airVolume'],
    ['tailDepthMm', 'tailDepth'],
    ['neckDepthMm', 'neckDepth'],
  ],
  always: [
    ['volumeDoubtPercent', 'volumeDoubt'],
    ['holeRadiusMm', 'holeRadius'],
    ['holeEdgeMm', 'holeEdge'],
  ],
} as const satisfies Readonly<Record<string, readonly (readonly [keyof BoxCavity, QuantityName])[]>>;

export function BoxSizes({ record, step }: BoxPartProps) {
  const sizes = record.box?.cavity ?? noSizes;
  const edit = useBoxEdit();
  const { air: t, choose } = boxWords();
  const change = (editName: EditName, make: (cavity: BoxCavity) => BoxCavity) =>
    edit(editName, (box) => ({ ...box, cavity: make(box.cavity ?? noSizes) }));
  const hints: Partial<Record<keyof BoxCavity, string>> = {
    topDomeRadiusM: t.domeHint,
    backDomeRadiusM: t.domeHint,
    occupiedL: t.occupiedHint,
    volumeL: t.volumeHint,
    volumeDoubtPercent: t.volumeDoubtHint(USUAL_VOLUME_DOUBT_PERCENT),
    holeEdgeMm: t.holeEdgeHint,
    pressureHpa: t.pressureHint,
    ...(sizes.from === 'outline' ? {} : { tailDepthMm: t.depthHint }),
  };
  const field = ([key, of]: (typeof sizesOf)[keyof typeof sizesOf][number] | readonly ['pressureHpa', 'pressure']) => (
    <NumberField
      key={key}
      of={of}
      hint={hints[key]}
      value={sizes[key]}
      onChange={(value) => change('box-size', (cavity) => withField(cavity, key, value))}
    />
  );
  return (
    <>
      <h1>{t.title}</h1>
      <section class="stand" aria-label={t.ownLabel}>
        <AirAnswer record={record} step={step} />
      </section>
      <Card title={t.sizes}>
        <div class="fields">
          <ChoiceField
            label={t.volumeFrom}
            value={sizes.from}
            options={choices(t.volumeFroms)}
            onChange={(from) => change('volume-from', (cavity) => ({ ...cavity, from }))}
          />
          {sizes.from === 'outline' && (
            <ChoiceField
              label={t.beginFrom}
              value=""
              options={[['', choose], ...choices(t.bodies)]}
              onChange={(name) => {
                if (name !== '') change('usual-body', (cavity) => ({ ...cavity, ...usualBodies[name] }));
              }}
            />
          )}
        </div>
        <div class="fields">{sizesOf[sizes.from === 'outline' ? 'outline' : 'volume'].map(field)}</div>
        <div class="fields">{sizesOf.always.map(field)}</div>
        <h2>{t.room}</h2>
        {step === undefined && <p class="hint">{t.roomHint}</p>}
        <div class="fields">
          {step !== undefined && <RoomFields step={step} />}
          {field(['pressureHpa', 'pressure'])}
        </div>
      </Card>
    </>
  );
}

function AirAnswer({ record, step }: Pick<BoxPartProps, 'record' | 'step'>) {
  const { air: t, codes } = boxWords();
  const air = useAir();
  const cavity = cavityOf(record.box?.cavity, step?.climate);
  switch (cavity.kind) {
    case 'missing':
      return <p class="verdict cannot-say">{codes.measureForAir(cavity.needs)}</p>;
    case 'no-volume':
      return (
        <p class="stop" role="alert">
          {codes.noVolume(cavity.emptyL, cavity.occupiedL)}
        </p>
      );
    case 'cavity': {
      const litres = { value: 1000 * cavity.volumeM3.value, sigma: 1000 * cavity.volumeM3.sigma };
      return (
        <>
          <LargeFigure figure={cavity.ownHz} unit="Hz" mostDecimals={1} />
          <p>{t.byItself}</p>
          <Facts
            of={[
              [words.quantities.airVolume, withHalfWidth(litres, t.litres)],
              [t.soundSpeed, <>{number(cavity.air.soundSpeedMPerS, 1)} m/s</>],
              [t.roomIs, cavity.climateAssumed ? t.assumed : air.one(step!.climate)],
            ]}
          />
        </>
      );
    }
  }
}

function RoomFields({ step }: { readonly step: Step }) {
  const editRecord = useEditRecord();
  const t = boxWords().air;
  const change = (key: 'tempC' | 'humidityPercent', value: number | undefined) =>
    editRecord('air', (record) =>
      changeStep(record, step.id, (known) => ({
        ...known,
        climate: withField<ClimateNote, typeof key>(known.climate, key, value),
      })),
    );
  return (
    <>
      <NumberField of="airTemperature" value={step.climate.tempC} onChange={(value) => change('tempC', value)} />
      <NumberField
        of="humidity"
        hint={t.humidityHint}
        value={step.climate.humidityPercent}
        onChange={(value) => change('humidityPercent', value)}
      />
    </>
  );
}
