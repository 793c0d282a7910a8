// Before a roving round: how many spots, where they lie, and the press that starts it.
import { useState } from 'preact/hooks';
import { namesOf } from '../../app/recordings.ts';
import { tapsPerSpot } from '../../app/roving.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { isRoving, tapsAt } from '../../record/roving-edit.ts';
import { ChooseSounds } from '../bench/take-recordings.tsx';
import { Actions, Button } from '../parts/actions.tsx';
import { Card, FoldedCard } from '../parts/card.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { spotWord } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { SpotMap } from './spot-map.tsx';
import { SpotSheet } from './spot-sheet.tsx';
import { type OfferedSetting, type SpotCount, useSetting } from './use-setting.ts';
import { useShapes } from './use-shapes.ts';
import { shapesWords } from './words.ts';

export function BeginRoving(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly isOpen: boolean;
}) {
  const [count, setCount] = useState<SpotCount>('16');
  const setting = useSetting(props.record, props.step, count);
  const t = shapesWords();
  if (setting === undefined)
    return (
      <Card title={t.begin}>
        <p>{t.needsModes}</p>
        <Actions>
          <a class="primary button" href="#/bench">
            {t.backToBench}
          </a>
        </Actions>
      </Card>
    );
  const inside = <Begin setting={setting} count={count} onCount={setCount} />;
  return props.isOpen ? <Card title={t.begin}>{inside}</Card> : <FoldedCard title={t.begin}>{inside}</FoldedCard>;
}

function Begin(props: {
  readonly setting: OfferedSetting;
  readonly count: SpotCount;
  readonly onCount: (count: SpotCount) => void;
}) {
  const { recordings, bench } = useWorkshop();
  const { roving } = useShapes();
  const { setting, count } = props;
  const t = shapesWords();
  const state = roving.state.value;
  const isOpening = state.kind === 'opening';
  const isBusy = isOpening || bench.listening.value;
  const take = async (files: readonly File[]) => {
    const { holds } = await recordings.tapsIn(files);
    if (holds.length > 0) await roving.takeRecordings(setting, namesOf(files), holds.flat());
  };
  return (
    <div class="begin-roving">
      <div>
        <p>{t.howTo(tapsPerSpot)}</p>
        <ChoiceField label={t.howMany} value={count} options={choices(t.spotCounts)} onChange={props.onCount} />
        <p class="hint">
          {t.modesFrom(setting.modes.length, spotWord(setting.tappedAt).toLowerCase())}{' '}
          {setting.modes
            .slice(0, 8)
            .map(({ frequencyHz }) => withHalfWidth(frequencyHz, 'Hz'))
            .join(', ')}
        </p>
        {setting.spots[0]?.xMm === undefined && <p class="note">{t.withoutDrawing}</p>}
        <Unfinished setting={setting} isDisabled={isBusy} />
        <Actions>
          <Button
            kind="primary"
            isBig
            takesSpaceBar
            text={isOpening ? t.opening : t.start}
            isDisabled={isBusy}
            onPress={() => void roving.start(setting)}
          />
          {isOpening && <Button text={t.doNotWait} onPress={() => roving.giveUpOpening()} />}
        </Actions>
        {isOpening && state.waitsFor !== undefined && (
          <p class="note" role="status">
            {words.bench.waitsFor[state.waitsFor]}
          </p>
        )}
        <p>
          <ChooseSounds
            id="roving-recordings"
            words={t.takeRecordings}
            label={t.recordingsLabel}
            disabled={isBusy}
            onFiles={(files) => void take(files)}
          />{' '}
          <span class="hint">{t.recordingsHint(tapsPerSpot)}</span>
        </p>
        <SpotSheet setting={setting} />
      </div>
      <SpotMap record={setting.record} step={setting.step} spots={setting.spots} stateOf={() => 'open'} />
    </div>
  );
}

/** A round that was broken off, to go on with. */
function Unfinished(props: { readonly setting: OfferedSetting; readonly isDisabled: boolean }) {
  const { roving } = useShapes();
  const t = shapesWords();
  const { setting } = props;
  const open = setting.step.rounds.filter(isRoving).findLast(({ state, taps }) => state === 'open' && taps.length > 0);
  if (open === undefined) return null;
  const done = open.roving.spots.filter((_, spot) => tapsAt(open, spot).length > 0).length;
  return (
    <p class="unfinished">
      {t.brokenOff(done, open.roving.spots.length)}{' '}
      <Button text={t.goOnWithIt} isDisabled={props.isDisabled} onPress={() => void roving.resume(setting, open)} />
    </p>
  );
}
