// Taps on a synthetic closed box: three pistons of known mass, stiffness and area, in each of the guided states.
import { boxModes, pistonSystem } from '../../src/box/pistons.ts';
import type { BoxState } from '../../src/compare/box-state.ts';
import type { PieceMode } from '../../src/demo/tap-synth.ts';
import { boxIn } from '../compare/box-story.ts';
import { tapsForMicrophone } from './sound.ts';

/** A mode of the plates that pumps no air: heard in every state, and none of the three. */
const decoy: PieceMode = { frequencyHz: 308, q: 55, level: 0.012 };

/**
 * Modes as the microphone hears them: struck at the spot, each rings with its motion there times the air it pushes; the
 * pressure follows the acceleration, hence the frequency.
 * Source: modal expansion; simple source, Fletcher & Rossing 1998, section 7.1.
 */
function modesIn(state: BoxState): readonly PieceMode[] {
  const box = boxIn(state);
  const { parts, areaM2 } = pistonSystem(box);
  const struck = state === 'tap-on-back' ? 'back' : 'top';
  const heard = boxModes(box).map(({ frequencyHz, q, shape }) => ({
    frequencyHz,
    q,
    level: Math.abs(frequencyHz * shape[struck]! * parts.reduce((sum, part, i) => sum + areaM2[i]! * shape[part]!, 0)),
  }));
  const loudest = Math.max(...heard.map(({ level }) => level));
  return [...heard.map((mode) => ({ ...mode, level: (0.12 * mode.level) / loudest })), decoy];
}

/** Taps in the state for the fake microphone: two more than the page is set to, on a busy machine it may not hear every one. */
export function soundIn(state: BoxState, seed: number): Uint8Array {
  return tapsForMicrophone({
    modes: modesIn(state),
    holds: 1,
    tapsPerHold: wantedTaps + 2,
    tapEveryS: 1.5,
    pauseS: 0.5,
    seed,
  });
}

/** Taps a hold that the live rounds are set to. */
export const wantedTaps = 3;

/** A recording of one hold in the state. */
export function recordingOf(
  state: BoxState,
  seed: number,
  holds = 2,
): { name: string; mimeType: string; buffer: Buffer }[] {
  return Array.from({ length: holds }, (_, hold) => ({
    name: `${state}-${hold + 1}.wav`,
    mimeType: 'audio/wav',
    buffer: Buffer.from(
      tapsForMicrophone({ modes: modesIn(state), holds: 1, tapsPerHold: 4, pauseS: 0.5, seed: seed + hold }),
    ),
  }));
}
