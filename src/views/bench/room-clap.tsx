// One clap for the room: optional, so that what the room rings at is not taken for the piece.

import type { Estimate } from '../../quantity/estimate.ts';
import { Button } from '../parts/actions.tsx';
import { moment, withHalfWidth } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { LevelScale } from './level-meter.tsx';

/** Resonances named one by one; above these the room has ever more. */
const namedResonances = 5;

export function RoomClap() {
  const { room } = useWorkshop();
  const t = words.bench.room;
  const state = room.state.value;
  if (state.kind === 'listening')
    return (
      <section class="room-clap" aria-label={t.label}>
        <p role="status">{state.trouble === undefined ? t.clapNow : t.trouble[state.trouble]}</p>
        <LevelScale level={room.level.value} />
        <Button text={t.leave} onPress={() => void room.cancel()} />
      </section>
    );
  if (state.kind === 'opening')
    return (
      <section class="room-clap" aria-label={t.label}>
        <p role="status">{words.bench.opening}</p>
        <Button text={t.leave} onPress={() => void room.cancel()} />
      </section>
    );
  const known = room.known.value;
  const busy = state.kind !== 'idle';
  return (
    <section class="room-clap" aria-label={t.label}>
      {known !== undefined && (
        <p class="hint" role="status">
          {t.known(resonances(known.poles.map(({ frequencyHz }) => frequencyHz)), moment(known.atIso))}
        </p>
      )}
      <Button
        kind="quiet"
        text={busy ? t.listening : known === undefined ? t.clapOnce : t.clapAgain}
        isDisabled={busy}
        onPress={() => void room.listen()}
      />{' '}
      {known === undefined ? (
        <span class="hint">{t.optional}</span>
      ) : (
        <Button kind="quiet" text={t.forget} onPress={() => room.forget()} />
      )}
    </section>
  );
}

function resonances(frequenciesHz: readonly Estimate[]): string {
  if (frequenciesHz.length === 0) return words.bench.room.none;
  const named = frequenciesHz.slice(0, namedResonances).map((hz) => withHalfWidth(hz, 'Hz'));
  return words.bench.room.ringsAt(named, frequenciesHz.length - named.length);
}
