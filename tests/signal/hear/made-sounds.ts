// Sounds for the listener, one tap on six modes unless told otherwise, and what the verdicts on them say.
import type { TapVerdict } from '../../../src/signal/tap.ts';
import { PIECES, scene, type TapScene } from '../../bench/listener-sounds.ts';

export const RATE = 16_000;
export const made = (changes: Partial<TapScene> = {}) =>
  scene({
    piece: PIECES['six modes']!,
    sampleRateHz: RATE,
    taps: [[1, 1]],
    durationS: 3,
    snrDb: 40,
    seed: 1,
    ...changes,
  });

export const said = (verdicts: readonly TapVerdict[]) =>
  verdicts.map((verdict) => (verdict.kind === 'accepted' ? 'accepted' : verdict.refusal.because));
