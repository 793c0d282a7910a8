// Stored taps played back to the maker: one, several in turn, or one mode of them alone.
import { forTheEar, type Sound } from '../signal/filter/for-the-ear.ts';
import type { Tap } from '../signal/tap.ts';
import type { Notices } from './notices.ts';

/** What hearing back needs of the machine. */
export interface HearBackPorts {
  getTaps(ids: readonly string[]): Promise<readonly (Tap | undefined)[]>;
  play(sounds: readonly Sound[]): void;
}

export class HearBack {
  private readonly ports: HearBackPorts;
  private readonly notices: Notices;

  constructor(ports: HearBackPorts, notices: Notices) {
    this.ports = ports;
    this.notices = notices;
  }

  /**
   * Plays taps one after the other, equally loud.
   * @param aboutHz of each the mode that is heard alone, Hz; everything where not given
   */
  async play(taps: readonly { readonly id: string; readonly aboutHz?: number }[]): Promise<void> {
    const stored = await this.ports.getTaps(taps.map(({ id }) => id));
    const sounds = taps.flatMap(({ aboutHz }, i) => {
      const tap = stored[i];
      return tap === undefined ? [] : [forTheEar(tap, aboutHz)];
    });
    if (sounds.length === 0) this.notices.show({ kind: 'no-sound-here' });
    else this.ports.play(sounds);
  }
}
