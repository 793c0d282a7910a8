// Whether the sound comes at the rate the device says: one that lies about it makes every frequency wrong.

/** Shortest stretch of sound to judge by, s. */
const leastS = 30;

/** The messages of a stretch's first and last seconds are compared, s: long enough that one of them comes without delay. */
const endS = 8;

/**
 * A rate farther off than this is told. Crystals are off by less than 0.01 %; rates that are mistaken for one another
 * (44.1, 48, 88.2, 96 kHz) by 8 % at least; a machine that loses 10 ms of sound twice a second looks 2 % off and has a
 * warning of its own. Common practice, no source.
 */
const mostOff = 0.025;

/** One message: how many seconds of sound there were when it came, by the device, and when that was, by the clock. */
interface Arrival {
  readonly soundS: number;
  readonly clockS: number;
}

/**
 * Compares the stream with the clock on the wall. A message may come late, by seconds on a busy machine, but never early:
 * the earliest of many tells when the sound was really there.
 */
export class RateCheck {
  private readonly sampleRateHz: number;
  private frames = 0;
  private first: Arrival[] = [];
  private last: Arrival[] = [];
  private told = false;

  /** @param sampleRateHz what the device says, Hz */
  constructor(sampleRateHz: number) {
    this.sampleRateHz = sampleRateHz;
  }

  /**
   * Takes note of a message.
   * @param frames frames in it
   * @param nowMs  a steady clock when it came, ms
   * @returns true once, when the rate is found to be wrong
   */
  isWrongAfter(frames: number, nowMs: number): boolean {
    if (this.told) return false;
    this.frames += frames;
    const arrival = { soundS: this.frames / this.sampleRateHz, clockS: nowMs / 1000 };
    const start = this.first[0] ?? arrival;
    if (arrival.soundS - start.soundS < endS) this.first.push(arrival);
    this.last.push(arrival);
    this.last = this.last.filter(({ soundS }) => arrival.soundS - soundS < endS);
    if (arrival.soundS - start.soundS < leastS) return false;
    const from = earliest(this.first);
    const to = earliest(this.last);
    const isWrong = Math.abs((to.soundS - from.soundS) / (to.clockS - from.clockS) - 1) > mostOff;
    this.told = isWrong;
    if (!isWrong) {
      // The end of this stretch is the beginning of the next one.
      this.first = this.last;
      this.last = [];
    }
    return isWrong;
  }

  /** A pause that is nobody's fault: the page was hidden, the machine asleep. The check begins anew. */
  restart(): void {
    this.frames = 0;
    this.first = [];
    this.last = [];
  }
}

/** The arrival with the least delay. */
const earliest = (arrivals: readonly Arrival[]): Arrival =>
  arrivals.reduce((best, one) => (one.clockS - one.soundS < best.clockS - best.soundS ? one : best));
