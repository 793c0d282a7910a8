// One clap for the room: optional, so that what the room rings at is not taken for the piece.
import type { Estimate } from '../../quantity/estimate.ts';
import { moment, withHalfWidth } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { LevelMeter } from './level-meter.tsx';

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
        <LevelMeter level={room.level.value} />
        <button type="button" onClick={() => void room.cancel()}>
          {t.leave}
        </button>
      </section>
    );
  if (state.kind === 'opening')
    return (
      <section class="room-clap" aria-label={t.label}>
        <p role="status">{words.bench.opening}</p>
        <button type="button" onClick={() => void room.cancel()}>
          {t.leave}
        </button>
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
      <button type="button" class="quiet" disabled={busy} onClick={() => void room.listen()}>
        {busy ? t.listening : known === undefined ? t.clapOnce : t.clapAgain}
      </button>{' '}
      {known === undefined ? (
        <span class="hint">{t.optional}</span>
      ) : (
        <button type="button" class="quiet" onClick={() => room.forget()}>
          {t.forget}
        </button>
      )}
    </section>
  );
}

function resonances(frequenciesHz: readonly Estimate[]): string {
  if (frequenciesHz.length === 0) return words.bench.room.none;
  const named = frequenciesHz.slice(0, namedResonances).map((hz) => withHalfWidth(hz, 'Hz'));
  return words.bench.room.ringsAt(named, frequenciesHz.length - named.length);
}
