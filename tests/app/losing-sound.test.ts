import { expect, test } from 'vitest';
import { isLosingSound } from '../../src/app/losing-sound.ts';
import type { Refusal, TapVerdict } from '../../src/signal/tap.ts';

const tap = { samples: new Float32Array(0), sampleRateHz: 48_000, onsetIndex: 0 };
const kept: TapVerdict = { kind: 'accepted', timeS: 0, tap, aboveRoomDb: 30 };
const refused = (refusal: Refusal): TapVerdict => ({ kind: 'refused', timeS: 0, refusal, tap });
const spliced = refused({ because: 'spliced', afterS: 0.1 });
const gap = refused({ because: 'drop-out' });
const clap = refused({ because: 'not-a-tap', soundsLike: 'clap' });

test('a machine is told to lose sound at the third sound of late that has a part missing, not for anything else', () => {
  expect(isLosingSound([])).toBe(false);
  expect(isLosingSound([spliced, kept, spliced])).toBe(false);
  expect(isLosingSound([spliced, kept, gap, clap, spliced])).toBe(true);
  // the newest is what the notice would speak of
  expect(isLosingSound([spliced, gap, spliced, kept])).toBe(false);
  expect(isLosingSound([clap, clap, clap, clap])).toBe(false);
  // long ago is forgotten
  expect(isLosingSound([spliced, spliced, ...Array<TapVerdict>(8).fill(kept), spliced])).toBe(false);
});
