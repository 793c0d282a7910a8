// What the bench shows: where the round stands, and what was heard.
import type { MicrophoneWait } from '../capture/microphone.ts';
import type { Round } from '../record/record.ts';
import type { RecordPlace } from '../record/round-edit.ts';
import type { TapVerdict } from '../signal/tap.ts';

/** How a piece is held and where it is tapped for a round. */
export type RoundSetting = Pick<Round, 'support' | 'spot' | 'wanted'>;

export type BenchState =
  | { readonly kind: 'idle' }
  /** `waitsFor` once it takes longer than it should */
  | { readonly kind: 'opening'; readonly waitsFor?: MicrophoneWait }
  | { readonly kind: 'listening'; readonly place: RecordPlace; readonly hold: number; readonly taken: number }
  | { readonly kind: 'between-holds'; readonly place: RecordPlace; readonly hold: number; readonly secondsLeft: number }
  | { readonly kind: 'interrupted'; readonly place: RecordPlace }
  | { readonly kind: 'reading'; readonly place: RecordPlace; readonly fraction: number }
  | { readonly kind: 'answer'; readonly place: RecordPlace };

/** One line of what was heard, newest last. */
export type Heard = TapVerdict & { readonly number: number; readonly keptAnyway?: boolean };
