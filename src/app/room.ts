// The room as a control clap shows it. It belongs to the place, not to an instrument: it is kept while the page is open and
// noted with every round that is taken meanwhile.
import { type ReadonlySignal, signal } from '@preact/signals';
import { endsListening, type Microphone, MicrophoneError, type MicrophoneListeners } from '../capture/microphone.ts';
import type { Level } from '../signal/hear/level.ts';
import { TapListener } from '../signal/hear/listener.ts';
import type { TapVerdict } from '../signal/tap.ts';
import type { RoomPole } from '../signal/tell/room-poles.ts';
import type { Solver } from '../solver/solver.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';

/** What the room needs of the machine. */
export interface RoomPorts {
  openMicrophone(deviceId: string | undefined, listeners: MicrophoneListeners): Promise<Microphone>;
  nowIso(): string;
}

/** What one clap told of the room. */
export interface KnownRoom {
  readonly atIso: string;
  /** ascending in frequency */
  readonly poles: readonly RoomPole[];
}

/** Why a clap told nothing. */
type ClapTrouble = 'clipped' | 'too-quiet' | 'cut-short' | 'no-clap';

export type ClapState =
  | { readonly kind: 'idle' }
  | { readonly kind: 'opening' }
  | { readonly kind: 'listening'; readonly trouble: ClapTrouble | undefined }
  | { readonly kind: 'reading' };

export class Room {
  private readonly state_ = signal<ClapState>({ kind: 'idle' });
  private readonly known_ = signal<KnownRoom | undefined>(undefined);
  private readonly level_ = signal<Level | undefined>(undefined);
  private close: () => Promise<void> = async () => undefined;
  private giveUp = new AbortController();
  private readonly ports: RoomPorts;
  private readonly solver: Pick<Solver, 'run'>;
  private readonly preferences: Preferences;
  private readonly notices: Notices;

  constructor(ports: RoomPorts, solver: Pick<Solver, 'run'>, preferences: Preferences, notices: Notices) {
    this.ports = ports;
    this.solver = solver;
    this.preferences = preferences;
    this.notices = notices;
  }

  get state(): ReadonlySignal<ClapState> {
    return this.state_;
  }

  /** undefined until somebody has clapped */
  get known(): ReadonlySignal<KnownRoom | undefined> {
    return this.known_;
  }

  get level(): ReadonlySignal<Level | undefined> {
    return this.level_;
  }

  /** Opens the microphone and waits for one clap. Call inside the press: the microphone needs it. */
  async listen(): Promise<void> {
    if (this.state_.value.kind !== 'idle') return;
    this.state_.value = { kind: 'opening' };
    this.giveUp = new AbortController();
    try {
      let listener: TapListener | undefined;
      const microphone = await this.ports.openMicrophone(this.preferences.settings.value.deviceId, {
        onBlock: (samples, missingFrames) => {
          if (listener === undefined || this.state_.value.kind !== 'listening') return;
          const verdicts = listener.push(samples, missingFrames);
          this.level_.value = listener.level();
          for (const verdict of verdicts) this.judge(verdict);
        },
        onTrouble: (trouble) => {
          this.notices.show({ kind: 'microphone-trouble', trouble });
          if (endsListening(trouble)) void this.cancel();
        },
        signal: this.giveUp.signal,
      });
      this.close = () => microphone.close();
      listener = new TapListener(microphone.facts.sampleRateHz);
      this.state_.value = { kind: 'listening', trouble: undefined };
    } catch (cause) {
      this.state_.value = { kind: 'idle' };
      if (!(cause instanceof MicrophoneError)) throw cause;
      if (cause.reason !== 'given-up') this.notices.show({ kind: 'microphone-refused', reason: cause.reason });
    }
  }

  /** Stops waiting for a clap; what was known of the room stays. */
  async cancel(): Promise<void> {
    this.giveUp.abort();
    const { close } = this;
    this.close = async () => undefined;
    this.level_.value = undefined;
    this.state_.value = { kind: 'idle' };
    await close();
  }

  /** The room has changed, or the clap was no good: rounds are read without it again. */
  forget(): void {
    this.known_.value = undefined;
  }

  private judge(verdict: TapVerdict): void {
    if (this.state_.value.kind !== 'listening') return;
    const trouble = troubleOf(verdict);
    if (trouble !== undefined) this.state_.value = { kind: 'listening', trouble };
    else void this.read(verdict);
  }

  private async read({ tap }: TapVerdict): Promise<void> {
    await this.cancel();
    this.state_.value = { kind: 'reading' };
    try {
      const poles = await this.solver.run('room-poles', { clap: tap });
      this.known_.value = { atIso: this.ports.nowIso(), poles };
    } catch (cause) {
      this.notices.show({ kind: 'fit-failed', message: cause instanceof Error ? cause.message : String(cause) });
    }
    this.state_.value = { kind: 'idle' };
  }
}

/** A clap is whatever began suddenly and died away: to the listener for taps it may be one or not. */
function troubleOf(verdict: TapVerdict): ClapTrouble | undefined {
  if (verdict.kind === 'accepted') return undefined;
  switch (verdict.refusal.because) {
    case 'clipped':
    case 'too-quiet':
      return verdict.refusal.because;
    case 'decay-cut-short':
    case 'drop-out':
    case 'spliced':
      return 'cut-short';
    case 'struck-twice':
      return undefined;
    case 'not-a-tap':
      return verdict.refusal.soundsLike === 'clap' || verdict.refusal.soundsLike === 'scrape' ? undefined : 'no-clap';
  }
}
