// What the bench listens with: the microphone, the listener behind it, and when nothing that is heard may be believed. The
// stream's own samples are the clock, so that a busy page loses nothing.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { Cue } from '../capture/feedback.ts';
import {
  type Microphone,
  MicrophoneError,
  type MicrophoneFacts,
  type MicrophoneListeners,
  type MicrophoneTrouble,
  type MicrophoneWait,
} from '../capture/microphone.ts';
import type { Level } from '../signal/hear/level.ts';
import { TapListener } from '../signal/hear/listener.ts';
import type { TapVerdict } from '../signal/tap.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';

/** What the page says aloud; the words are the views'. */
export type Spoken =
  | { readonly kind: 'pick-up-again' }
  | { readonly kind: 'spot'; readonly number: number }
  | { readonly kind: 'lowest-mode'; readonly frequencyHz: number };

/** What the ear needs of the machine. */
export interface EarPorts {
  openMicrophone(deviceId: string | undefined, listeners: MicrophoneListeners): Promise<Microphone>;
  keepAwake(): () => void;
  /** plays a cue or speaks; returns for how long not to listen at least, s */
  cue(cue: Cue, spoken?: Spoken): number;
  /** whether a voice of the page's own is still heard */
  isSpeaking(): boolean;
}

/** Whom the ear tells. */
export interface EarListeners {
  /** what was heard while somebody could see the page and nothing of its own sounded */
  onVerdict(verdict: TapVerdict): void;
  /** some more of the stream has come, before what was heard in it is told */
  onTime(): void;
  onTrouble(trouble: MicrophoneTrouble): void;
  onWaiting(waitsFor: MicrophoneWait): void;
}

/** Rooms and loudspeakers ring on: this long after the page's own voice nothing is believed, s. */
const afterVoiceS = 0.3;

/** After the page came back into sight, s: what it missed may still be in the buffers. Own choice. */
const afterHiddenS = 0.5;

export class Ear {
  private readonly levelNow = signal<Level | undefined>(undefined);
  private readonly facts = signal<MicrophoneFacts | undefined>(undefined);
  private open: Microphone | undefined;
  private listener: TapListener | undefined;
  private giveUp = new AbortController();
  private streamS = 0;
  private hidden = false;
  private deafUntilS = 0;
  private mutedUntilS = 0;
  private allowSleep: () => void = () => undefined;
  private readonly ports: EarPorts;
  private readonly preferences: Preferences;
  private readonly notices: Notices;
  private readonly listeners: EarListeners;

  constructor(ports: EarPorts, preferences: Preferences, notices: Notices, listeners: EarListeners) {
    this.ports = ports;
    this.preferences = preferences;
    this.notices = notices;
    this.listeners = listeners;
  }

  /** how loud it is; undefined while nothing is open */
  get level(): ReadonlySignal<Level | undefined> {
    return this.levelNow;
  }

  /** the microphone used last */
  get microphone(): ReadonlySignal<MicrophoneFacts | undefined> {
    return this.facts;
  }

  /** For how long nothing is believed yet, s. */
  get deafForS(): number {
    return Math.max(0, this.deafUntilS - this.streamS);
  }

  /** Opens the microphone. @returns false where it did not open; the maker was told why */
  async connect(): Promise<boolean> {
    this.giveUp = new AbortController();
    try {
      this.open = await this.ports.openMicrophone(this.preferences.settings.value.deviceId, {
        onBlock: (samples, missingFrames) => this.hear(samples, missingFrames),
        onTrouble: (trouble) => this.listeners.onTrouble(trouble),
        onWaiting: (waitsFor) => this.listeners.onWaiting(waitsFor),
        signal: this.giveUp.signal,
      });
    } catch (cause) {
      if (!(cause instanceof MicrophoneError)) throw cause;
      if (cause.reason !== 'given-up') this.notices.show({ kind: 'microphone-refused', reason: cause.reason });
      return false;
    }
    const { facts } = this.open;
    this.facts.value = facts;
    this.remember(facts);
    const { loudEnoughDb, loudestDb } = this.preferences.settings.value;
    this.listener = new TapListener(facts.sampleRateHz, {}, { loudEnoughDb, loudestDb });
    this.streamS = 0;
    this.hidden = false;
    this.deafUntilS = 0;
    this.mutedUntilS = 0;
    this.allowSleep = this.ports.keepAwake();
    return true;
  }

  /** The person does not want to wait until the microphone opens. */
  giveUpOpening(): void {
    this.giveUp.abort();
  }

  async disconnect(): Promise<void> {
    const microphone = this.open;
    this.open = undefined;
    this.listener = undefined;
    this.levelNow.value = undefined;
    this.allowSleep();
    this.allowSleep = () => undefined;
    await microphone?.close();
  }

  /** The page was hidden or shown: what is heard while nobody sees the page is not measured. */
  presence(visible: boolean): void {
    this.hidden = !visible;
    if (visible) this.deafFor(afterHiddenS);
    else this.notices.show({ kind: 'microphone-trouble', trouble: 'hidden' });
  }

  /** Plays a cue or speaks, and hears nothing meanwhile. */
  cue(cue: Cue, spoken?: Spoken): void {
    const quietS = this.ports.cue(cue, spoken);
    if (quietS > 0) this.deafFor(quietS);
  }

  /** Believes nothing for so long, s. */
  deafFor(seconds: number): void {
    this.deafUntilS = Math.max(this.deafUntilS, this.streamS + seconds);
  }

  /** The first microphone used is remembered; one that only stands in for it is named and not remembered. */
  private remember({ deviceId, label }: MicrophoneFacts): void {
    const settings = this.preferences.settings.value;
    if (deviceId === '') return;
    if (settings.deviceId === undefined || settings.deviceId === deviceId)
      this.preferences.change({ deviceId, deviceLabel: label });
    else this.notices.show({ kind: 'other-microphone', wanted: settings.deviceLabel, used: label });
  }

  private hear(samples: Float32Array, missingFrames: number): void {
    const listener = this.listener;
    if (listener === undefined) return;
    this.streamS += samples.length / (this.facts.value?.sampleRateHz ?? 1);
    if (this.ports.isSpeaking()) this.deafFor(afterVoiceS);
    if (this.deafUntilS > this.mutedUntilS) {
      // The listener must not take the page's own voice for the room either.
      listener.mute(this.deafUntilS);
      this.mutedUntilS = this.deafUntilS;
    }
    const verdicts = listener.push(samples, missingFrames);
    this.levelNow.value = listener.level();
    this.listeners.onTime();
    if (this.hidden) return;
    // Asked anew for each: a cue given for one makes the ear deaf to the next.
    for (const verdict of verdicts) if (verdict.timeS >= this.deafUntilS) this.listeners.onVerdict(verdict);
  }
}
