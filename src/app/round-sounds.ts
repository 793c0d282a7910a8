// The sounds of the round at hand: by holds as they are read, and stored the moment they are accepted.
import type { Round } from '../record/record.ts';
import { type Tap, tapsByHold } from '../signal/tap.ts';
import { StorageError } from '../storage/database.ts';
import type { Notices } from './notices.ts';

/** What the sounds need of the machine. */
export interface SoundPorts {
  putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void>;
  getTaps(ids: readonly string[]): Promise<readonly (Tap | undefined)[]>;
}

export class RoundSounds {
  private byHold: Tap[][] = [[]];
  /** under which id each sound is stored */
  private readonly ids = new WeakMap<Tap, string>();
  private unsaved: (readonly [string, Tap])[] = [];
  private readonly ports: SoundPorts;
  private readonly notices: Notices;

  constructor(ports: SoundPorts, notices: Notices) {
    this.ports = ports;
    this.notices = notices;
  }

  /** the taps of each hold, the first hold at least */
  get holds(): readonly (readonly Tap[])[] {
    return this.byHold;
  }

  /** Begins anew, without a sound. */
  clear(): void {
    this.byHold = [[]];
  }

  /** Takes a sound in. It is stored with the next call of `store`. */
  add(id: string, tap: Tap, hold: number): void {
    while (this.byHold.length <= hold) this.byHold.push([]);
    this.byHold[hold]!.push(tap);
    this.ids.set(tap, id);
    this.unsaved.push([id, tap]);
  }

  /** Fetches the sounds of a round that was kept. */
  async fetch(round: Round): Promise<void> {
    const sounds = await this.ports.getTaps(round.taps.map((tap) => tap.id));
    for (const [i, { id }] of round.taps.entries()) {
      const sound = sounds[i];
      if (sound !== undefined) this.ids.set(sound, id);
    }
    this.byHold = tapsByHold(round.taps.map(({ hold }, i) => [hold, sounds[i]]));
  }

  /** Stores the sounds that are not stored yet; what the browser refuses stays in memory and is tried with the next tap. */
  async store(): Promise<void> {
    const waiting = [...this.unsaved];
    try {
      await this.ports.putTaps(waiting);
      this.unsaved = this.unsaved.filter((entry) => !waiting.includes(entry));
    } catch (cause) {
      if (!(cause instanceof StorageError)) throw cause;
      this.notices.show({ kind: 'storage', reason: cause.reason });
    }
  }

  /** Stores all sounds once more: another tab erased them with their record. */
  async storeAllAgain(): Promise<void> {
    const waiting = new Set(this.unsaved.map(([id]) => id));
    this.unsaved.push(
      ...this.byHold.flat().flatMap((tap): (readonly [string, Tap])[] => {
        const id = this.ids.get(tap);
        return id === undefined || waiting.has(id) ? [] : [[id, tap]];
      }),
    );
    await this.store();
  }

  /** The sound of a tap that the browser has not stored yet. */
  unstored(id: string): Tap | undefined {
    return this.unsaved.find(([known]) => known === id)?.[1];
  }
}
