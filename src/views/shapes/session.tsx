// While the maker taps from spot to spot: the spot to tap now, large enough to read from the bench.
import { useEffect, useRef } from 'preact/hooks';
import { tapsPerSpot } from '../../app/roving.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { type RovingRound, tapsAt } from '../../record/roving-edit.ts';
import { LevelScale } from '../bench/level-meter.tsx';
import { Actions, Button } from '../parts/actions.tsx';
import { Emphasised } from '../parts/emphasised.tsx';
import { number } from '../parts/figures.ts';
import { refusalWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { SpotList, SpotMap, type SpotState } from './spot-map.tsx';
import { spotNumbers, useSpotWords } from './spot-words.ts';
import { useShapes } from './use-shapes.ts';
import { shapesWords } from './words.ts';

export function RovingSession(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const { roving } = useShapes();
  const state = roving.state.value;
  const round = roving.round.value;
  const t = shapesWords();
  const top = useRef<HTMLDivElement>(null);
  // The spot is in view, however far down the press was.
  useEffect(() => top.current?.scrollIntoView({ block: 'start' }), []);
  if (round === undefined || (state.kind !== 'tapping' && state.kind !== 'interrupted')) return null;
  const doubtful = roving.doubtful.value;
  const stateOf = (spot: number): SpotState => {
    if (spot === state.spot) return 'now';
    if (doubtful.has(spot)) return 'doubtful';
    return tapsAt(round, spot).length > 0 ? 'done' : 'open';
  };
  const choose = (spot: number) => {
    if (state.kind === 'tapping') roving.goTo(spot);
  };
  return (
    <div ref={top} class="shapes roving-session">
      <h1 class="visually-hidden">{t.title}</h1>
      <div class="roving-now">
        <OtherRecord record={props.record} />
        <Now record={props.record} round={round} spot={state.spot} />
        {state.kind === 'tapping' && <LevelNow />}
        <LastHeard />
      </div>
      {round.roving.spots[0]?.xMm === undefined ? (
        <SpotList spots={round.roving.spots} stateOf={stateOf} onChoose={choose} />
      ) : (
        roving.recordId === props.record.id && (
          <SpotMap
            record={props.record}
            step={props.step}
            spots={round.roving.spots}
            stateOf={stateOf}
            onChoose={choose}
          />
        )
      )}
      <div class="roving-presses">
        {state.kind === 'interrupted' ? (
          <>
            <p class="note">{t.interrupted}</p>
            <Actions>
              <Button kind="primary" isBig takesSpaceBar text={t.goOn} onPress={() => void roving.goOn()} />
              <Button isBig text={t.finish} onPress={() => void roving.finish()} />
            </Actions>
          </>
        ) : (
          <Actions>
            <Button isBig text={t.again} onPress={() => roving.again()} />
            <Button isBig text={t.leaveOut} onPress={() => void roving.leaveOut()} />
            <Button isBig text={t.back} isDisabled={state.spot === 0} onPress={() => roving.back()} />
            <Button isBig takesSpaceBar text={t.finish} onPress={() => void roving.finish()} />
          </Actions>
        )}
        <Meanwhile round={round} doubtful={doubtful} />
      </div>
    </div>
  );
}

/** Another instrument was opened meanwhile: the round stays with its own. */
function OtherRecord({ record }: { readonly record: InstrumentRecord }) {
  const { shelf } = useWorkshop();
  const { roving } = useShapes();
  const { recordId } = roving;
  if (recordId === undefined || recordId === record.id) return null;
  const name = shelf.summaries.value.find(({ id }) => id === recordId)?.name ?? '';
  return (
    <p class="note" role="status">
      {words.bench.otherInstrument(name)}{' '}
      <Button kind="quiet" text={words.bench.backTo(name)} onPress={() => void shelf.open(recordId)} />
    </p>
  );
}

function Now(props: { readonly record: InstrumentRecord; readonly round: RovingRound; readonly spot: number }) {
  const { round, spot } = props;
  const t = shapesWords();
  const { name, place } = useSpotWords(props.record)(round.roving.spots[spot] ?? {}, spot);
  return (
    <p class="count spot-now" role="status">
      <Emphasised text={name} part={String(spot + 1)} />
      {place !== undefined && <span class="hold">{place}</span>}
      <span class="hold">{t.taken(tapsAt(round, spot).length, tapsPerSpot)}</span>
    </p>
  );
}

/** By itself, so that nothing else is drawn anew with every block of sound. */
function LevelNow() {
  return <LevelScale level={useShapes().roving.level.value} />;
}

/** What became of the last sound. */
function LastHeard() {
  const last = useShapes().roving.last.value;
  const t = shapesWords();
  return (
    <p class={`roving-heard ${last?.kind ?? ''}`}>
      {last === undefined
        ? '\u00a0'
        : last.kind === 'accepted'
          ? t.kept(number(last.aboveRoomDb, 0))
          : refusalWords(last.refusal)}
    </p>
  );
}

function Meanwhile(props: { readonly round: RovingRound; readonly doubtful: ReadonlySet<number> }) {
  const { round, doubtful } = props;
  const t = shapesWords();
  const { spots } = round.roving;
  const done = spots.filter((_, spot) => tapsAt(round, spot).length >= tapsPerSpot).length;
  return (
    <>
      <p>{t.soFar(done, spots.length)}</p>
      {doubtful.size > 0 && <p class="note">{t.tapAgainLive(spotNumbers(doubtful))}</p>}
    </>
  );
}
