// Whether the sound comes at the rate the device says: one that lies about it makes every frequency wrong, and a machine
// that loses sound on the way lets less of it arrive than the clock says.

/** Shortest stretch of sound to judge by, s. */
const leastS = 30;

/** The messages of a stretch's first and last seconds are compared, s: long enough that one of them comes without delay. */
const endS = 8;

/**
 * A rate farther off than this is told. Crystals are off by less than 0.01 %; rates that are mistaken for one another
 * (44.1, 48, 88.2, 96 kHz) by 8 % at least; a machine that loses 10 ms of sound twice a second looks 2 % off. Common
 * practice, no source.
 */
const mostOff = 0.025;

/**
 * Less sound than the clock says by this share is lost on the way. 10 ms twice a second are 2 %; where one message in eight
 * seconds comes within 0.1 s, the comparison itself is good to 0.1 s of 22, less than half of this.
 */
const mostLost = 0.01;

/** What is wrong with the stream. */
export type RateFault = 'rate-wrong' | 'losing-sound';

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
  private readonly reported = new Set<RateFault>();

  /** @param sampleRateHz what the device says, Hz */
  constructor(sampleRateHz: number) {
    this.sampleRateHz = sampleRateHz;
  }

  /**
   * Takes note of a message.
   * @param frames frames in it
   * @param nowMs  a steady clock when it came, ms
   * @returns a fault when it is first found
   */
  faultAfter(frames: number, nowMs: number): RateFault | undefined {
    if (this.reported.has('rate-wrong')) return undefined;
    this.frames += frames;
    const arrival = { soundS: this.frames / this.sampleRateHz, clockS: nowMs / 1000 };
    const start = this.first[0] ?? arrival;
    if (arrival.soundS - start.soundS < endS) this.first.push(arrival);
    this.last.push(arrival);
    this.last = this.last.filter(({ soundS }) => arrival.soundS - soundS < endS);
    if (arrival.soundS - start.soundS < leastS) return undefined;
    const from = earliest(this.first);
    const to = earliest(this.last);
    // The end of this stretch is the beginning of the next one.
    this.first = this.last;
    this.last = [];
    const off = (to.soundS - from.soundS) / (to.clockS - from.clockS) - 1;
    const fault = Math.abs(off) > mostOff ? 'rate-wrong' : off < -mostLost ? 'losing-sound' : undefined;
    if (fault === undefined || this.reported.has(fault)) return undefined;
    this.reported.add(fault);
    return fault;
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
