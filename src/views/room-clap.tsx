// One clap for the room: optional, so that what the room rings at is not taken for the piece.
import type { ClapTrouble } from '../app/room.ts';
import { moment, number } from './figures.ts';
import { LevelMeter } from './level-meter.tsx';
import { count } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

/** Resonances named one by one; above these the room has ever more. */
const namedResonances = 5;

const troubleWords: Readonly<Record<ClapTrouble, string>> = {
  clipped: 'Too loud: stand further from the microphone and clap again.',
  'too-quiet': 'Too quiet over the room: clap harder, or nearer.',
  'cut-short': 'The ring was cut short. Clap once and keep still for two seconds.',
  'no-clap': 'That did not sound like a clap.',
};

export function RoomClap() {
  const { room } = useWorkshop();
  const state = room.state.value;
  if (state.kind === 'listening')
    return (
      <section class="room-clap" aria-label="Clap for the room">
        <p role="status">
          {state.trouble === undefined
            ? 'Put the piece away, clap your hands once where you will hold it, and keep still for two seconds.'
            : troubleWords[state.trouble]}
        </p>
        <LevelMeter level={room.level.value} />
        <button type="button" onClick={() => void room.cancel()}>
          Leave it
        </button>
      </section>
    );
  const known = room.known.value;
  const busy = state.kind !== 'idle';
  return (
    <section class="room-clap" aria-label="Clap for the room">
      {known !== undefined && (
        <p class="hint" role="status">
          {resonances(known.poles.map((pole) => pole.frequencyHz.value))} (clap of {moment(known.atIso)})
        </p>
      )}
      <button type="button" class="quiet" disabled={busy} onClick={() => void room.listen()}>
        {busy ? 'Listening to the room …' : known === undefined ? 'Clap once for the room' : 'Clap again'}
      </button>{' '}
      {known === undefined ? (
        <span class="hint">optional: tells what the room rings at from what the piece does</span>
      ) : (
        <button type="button" class="quiet" onClick={() => room.forget()}>
          Forget this room
        </button>
      )}
    </section>
  );
}

function resonances(frequenciesHz: readonly number[]): string {
  if (frequenciesHz.length === 0) return 'The clap showed no resonance of the room.';
  const named = frequenciesHz.slice(0, namedResonances).map((hz) => number(hz, 0));
  const more = frequenciesHz.length - named.length;
  return `The room itself rings at ${named.join(', ')} Hz${more > 0 ? ` and ${count(more, 'higher place')}` : ''}.`;
}
