// May I glue today, and what will the dome do when the season turns.

import { useState } from 'preact/hooks';
import type { PieceAt } from '../../app/stock.ts';
import { shelfBoardOf, shelfStickOf, startOf } from '../../compare/piece-reading.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { QuantityName } from '../../record/quantities.ts';
import { stampGluing } from '../../record/wood-edit.ts';
import { domeChanges, gluingGate } from '../../wood/gluing.ts';
import { SPECIES, speciesById } from '../../wood/species.ts';
import { Card } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { Facts } from '../parts/figure.tsx';
import { moment, number, withHalfWidth } from '../parts/figures.ts';
import { EnterButton, EntryForm } from '../parts/form.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useLengthEstimate } from '../parts/own-units.ts';
import { useAir } from '../parts/use-air.ts';
import { stageWords } from '../words/codes.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { useAllPieces } from './all-pieces.ts';
import { speciesWord, woodWords } from './words.ts';

export function Gluing() {
  return (
    <EntryForm>
      <GluingGate />
    </EntryForm>
  );
}

function GluingGate() {
  const { preferences } = useWorkshop();
  const t = woodWords().gluing;
  const settings = preferences.settings.value;
  const [reading, setReading] = useState<number | undefined>(undefined);
  const [tempC, setTemp] = useState(20);
  const set = (part: Parameters<typeof preferences.change>[0]) => preferences.change(part);
  // The setting says what to add to the reading; the gate asks what it reads too high.
  const offset: Estimate = { value: -settings.hygrometerOffsetPercent, sigma: settings.hygrometerSigmaPercent };
  const window = { lowPercent: settings.gluingLowPercent, highPercent: settings.gluingHighPercent };
  const gate = reading === undefined ? undefined : gluingGate(reading, offset, tempC, window);
  return (
    <>
      <Card title={t.may}>
        <div class="fields">
          <NumberField label={t.reads} of="hygrometer" value={reading} onChange={setReading} />
          <NumberField label={t.temperature} of="gluingTemperature" isNeeded value={tempC} onSet={setTemp} />
          <NumberField
            label={t.windowFrom}
            of="gluingHumidity"
            most={settings.gluingHighPercent}
            value={settings.gluingLowPercent}
            onSet={(value) => set({ gluingLowPercent: value })}
          />
          <NumberField
            label={t.windowTo}
            of="gluingHumidity"
            least={settings.gluingLowPercent}
            value={settings.gluingHighPercent}
            onSet={(value) => set({ gluingHighPercent: value })}
          />
        </div>
        <p class="hint">{t.windowHint(number(settings.hygrometerOffsetPercent, 1))}</p>
        {gate === undefined ? (
          <p>{t.typeReading}</p>
        ) : (
          <>
            <p
              class={`verdict ${gate.kind === 'glue' ? 'go' : gate.kind === 'unsure' ? '' : 'look-again'}`}
              role="status"
            >
              {t.gate[gate.kind]}
            </p>
            <p>
              {t.trueHumidity(withHalfWidth(gate.humidityPercent, '%RH'), withHalfWidth(gate.moisturePercent, '%'))}
            </p>
            <Stamp humidityPercent={Math.min(100, Math.max(0, gate.humidityPercent.value))} tempC={tempC} />
          </>
        )}
      </Card>
      <Dome humidityPercent={gate?.humidityPercent.value ?? 45} tempC={tempC} isToday={gate !== undefined} />
    </>
  );
}

function Stamp(props: { readonly humidityPercent: number; readonly tempC: number }) {
  const { shelf, preferences } = useWorkshop();
  const editRecord = useEditRecord();
  const { gluing: t, choose } = woodWords();
  const air = useAir();
  const record = shelf.record.value;
  const step = record?.steps.at(-1);
  const instruments = shelf.summaries.value.filter(
    (summary) => summary.kind === 'instrument' && summary.steps > 0 && !summary.deleted && !summary.archived,
  );
  if (record?.kind !== 'instrument' || step === undefined)
    return instruments.length === 0 ? (
      <p class="hint">{t.noStep}</p>
    ) : (
      <ChoiceField
        label={t.whatIsGlued}
        value=""
        options={[['', choose], ...instruments.map((summary) => [summary.id, summary.name] as const)]}
        onChange={(id) => id !== '' && void shelf.open(id)}
      />
    );
  const { hygrometer, hygrometerOffsetPercent } = preferences.settings.value;
  const gluing = { ...props, hygrometer, hygrometerOffsetPercent };
  return (
    <>
      <EnterButton onEnter={() => editRecord('gluing-air', (current) => stampGluing(current, step.id, gluing))}>
        {t.stamp(record.steps.length, record.name)}
      </EnterButton>
      <p class="hint">
        {t.stepAt(step.done === '' ? stageWords[step.stage] : step.done, moment(step.atIso))}
        {step.gluing !== undefined && ` ${t.stamped(air.one(step.gluing))}`}
      </p>
    </>
  );
}

const radialOf = (species: string): number | undefined => speciesById(species)?.shrinkage?.radialPercent.value;

function Dome(props: { readonly humidityPercent: number; readonly tempC: number; readonly isToday: boolean }) {
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
  const size = (label: string, of: QuantityName, value: number, set: (value: number) => void) => (
    <NumberField label={label} of={of} value={value} onSet={set} />
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
          {size(t.plate, 'plateThickness', plateMm, setPlate)}
          {size(t.strip, 'stripWidth', stripMm, setStrip)}
          {size(t.braceHeight, 'wholeBraceHeight', heightMm, setHeight)}
          {size(t.braceWidth, 'braceWidth', widthMm, setWidth)}
          {size(t.span, 'domeSpan', spanMm, setSpan)}
        </div>
      </details>
    </Card>
  );
}
