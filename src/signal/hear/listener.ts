// From a stream of samples to taps. The listener hears the room, waits for a strike, keeps what was before and after it,
// and passes the take through the gate. The same samples give the same verdicts whatever the length of the blocks.
import { BandMeter, energiesOf, hopLength } from '../filter/band.ts';
import { isTapRate, type Refusal, type Tap, type TapVerdict } from '../tap.ts';
import { HEARD_AGAIN_HOPS, HUM_HOPS, HumWatch } from './hum-watch.ts';
import { type Level, LevelMeter } from './level.ts';
import { contactIndex } from './onset.ts';
import type { Ring } from './ring.ts';
import { decibels, RoomLearner, SILENCE } from './room.ts';
import { EnergyTrace, jumpAt } from './strike.ts';
import { type Judgement, judge, type TapLimits, USUAL_TAP_LIMITS } from './tap-gate.ts';

/** Times by which a take is cut, s. */
export interface TakeLengths {
  /** room kept before the strike */
  readonly beforeS: number;
  /** longest ring kept after it */
  readonly afterS: number;
  /** a second strike sooner than this spoils the take; later it is the next tap */
  readonly apartS: number;
}

const LENGTHS: TakeLengths = { beforeS: 0.5, afterS: 1.5, apartS: 0.35 };

const KEPT_S = 3.2; // of sound: the longest take, its room, and some
const NOTICED_DB = 8; // less than this over the room is not spoken of
const ATTACK_HOPS = 25; // within 25 ms all is one strike
const FAR_LOUDER = 100; // 20 dB: the sound that opened the take was not the tap
const BUMP_BELOW = 16; // 12 dB: what is this far below the strike that follows it within 50 ms is a bump before it
const SHARP_HOPS = 4; // a strike is then within 6 dB of its full strength; what swells more slowly is none
const SHARP_BELOW = 4;
const BUMP_HOPS = 4; // sooner than this after the take opened it is the strike's own rise
const BUMPED_BACK_S = 0.003; // how far before the strike its contact is looked for after a bump
const STEADY = 3; // a hum's loudest 4 ms are within this of its mean; those of noise as low are not
const HUMMING = 1000; // 30 dB: the low band over the high one where it hums, and a tap may be heard by its contact alone
const COARSEST = 0.02; // no recorder has coarser steps: until a smaller one is seen nothing is known of them
const HUM_LOOK_HOPS = 250; // how often a hum is looked for
const CONTACT_BACK_S = 0.012; // the contact lies at most so far before the strike as it was noticed
const NEVER = Number.POSITIVE_INFINITY;

/** The take that is now being heard, in hops from the start of the stream. */
interface OpenTake {
  readonly strikeHop: number;
  /** opened by the noise of the contact alone: whatever it was, the person is told why it was not taken */
  readonly isCovered: boolean;
  readonly hitHigh: number;
  readonly roomPower: number;
  readonly roomKnown: boolean;
  lastStrikeHop: number;
  readonly againHops: number[];
}

/** A take cut out of the stream. */
interface Cut {
  readonly strikeHop: number;
  /** sample of the stream at which the cut begins */
  readonly first: number;
  /** sample of the cut at which the piece was touched */
  readonly contact: number;
  readonly tap: Tap;
  /** the samples of the tap as they are judged: without the hum */
  readonly heard: Float32Array;
  /** the whole cut without the hum, undefined where none was taken off */
  readonly clean: Float32Array | undefined;
}

/** Listens to one channel and gives a verdict on each sound that began like a tap. */
export class TapListener {
  readonly sampleRateHz: number;
  private readonly lengths: TakeLengths;
  private readonly limits: TapLimits;
  private meter: BandMeter;
  private readonly trace = new EnergyTrace();
  private roomLow = new RoomLearner();
  private roomHigh = new RoomLearner();
  private readonly levels = new LevelMeter();
  private readonly hum: HumWatch;
  private readonly hop: number;
  private readonly kept: Float32Array;
  private heard = 0; // samples
  private before = 0; // the sample before this one
  private quantum = COARSEST; // smallest step between samples
  private peak = 0;
  private squares = 0;
  private take: OpenTake | undefined;
  private lost = { from: -1, to: -1 }; // samples among which some were last known to be missing
  private muted = 0; // hop up to which nothing is judged
  private learnFrom = 0; // hop from which the room is not learned yet

  /**
   * @param sampleRateHz 8000 to 192 000
   * @throws RangeError for a rate outside that range, or takes longer than 3 s
   */
  constructor(sampleRateHz: number, lengths: Partial<TakeLengths> = {}, limits: TapLimits = USUAL_TAP_LIMITS) {
    if (!isTapRate(sampleRateHz)) {
      throw new RangeError(`TapListener: sampleRateHz ${sampleRateHz}, need 8000 to 192000`);
    }
    this.sampleRateHz = sampleRateHz;
    this.lengths = { ...LENGTHS, ...lengths };
    this.limits = limits;
    if (this.lengths.beforeS + this.lengths.afterS > KEPT_S - 0.2) {
      throw new RangeError(
        `TapListener: takes of ${this.lengths.beforeS} + ${this.lengths.afterS} s, need 3 s at most`,
      );
    }
    this.meter = new BandMeter(sampleRateHz);
    this.hum = new HumWatch(sampleRateHz);
    this.hop = hopLength(sampleRateHz);
    this.kept = new Float32Array(Math.ceil(KEPT_S * sampleRateHz));
  }

  /** Time heard so far, s. */
  get timeS(): number {
    return this.heard / this.sampleRateHz;
  }

  /**
   * Hear the next block, any length; the verdicts that became ripe with it.
   * @param missing samples that are known to have been lost before the block's end; it is not known where
   */
  push(block: Float32Array, missing = 0): readonly TapVerdict[] {
    if (missing > 0) this.lost = { from: this.heard, to: this.heard + block.length };
    const verdicts: TapVerdict[] = [];
    for (let i = 0; i < block.length; i++) {
      const x = Number.isFinite(block[i]) ? block[i]! : 0;
      this.kept[this.heard++ % this.kept.length] = x;
      const step = Math.abs(x - this.before);
      if (step > 0 && step < this.quantum) this.quantum = step;
      this.before = x;
      this.peak = Math.max(this.peak, Math.abs(x));
      this.squares += x * x;
      const energy = this.meter.step(this.hum.step(x, this.isRinging()));
      if (energy === undefined) continue;
      this.levels.add(this.peak, this.squares / this.hop);
      this.peak = 0;
      this.squares = 0;
      this.trace.add(energy);
      if (this.trace.length % HUM_LOOK_HOPS === 0) this.lookForHum();
      this.onHop(verdicts);
    }
    return verdicts;
  }

  /** The stream has ended: judge what is still open. The listener may go on hearing afterwards. */
  flush(): readonly TapVerdict[] {
    const verdicts: TapVerdict[] = [];
    if (this.take !== undefined) this.close(this.trace.length, this.heard, verdicts);
    return verdicts;
  }

  /** Judge nothing that begins before this time of the stream, s: the application itself is speaking. */
  mute(untilS: number): void {
    this.muted = Math.max(this.muted, Math.ceil((untilS * this.sampleRateHz) / this.hop));
    this.take = undefined;
  }

  /** The level now, for a display. */
  level(): Level {
    const roomPower = this.roomLow.heard >= 25 ? this.roomLow.level().mean : undefined;
    return this.levels.read(roomPower, this.hum.isFollowing ? this.hum.levelDb : undefined);
  }

  private onHop(verdicts: TapVerdict[]): void {
    const now = this.trace.length;
    if (now < this.muted) {
      this.learnFrom = now;
      return;
    }
    const floor = this.floor();
    const low = this.roomLow.level(floor);
    const high = this.roomHigh.level(floor);
    const isCovered = this.roomLow.heard >= 100 && low.busy < STEADY * low.mean && low.mean > HUMMING * high.mean;
    const jump = jumpAt(this.trace, low, high, this.take?.hitHigh ?? (isCovered ? 0 : NEVER));
    if (this.take === undefined) {
      if (jump !== undefined) this.open(now, jump === 'high');
      else this.learnUpTo(now - (this.hum.isFollowing ? HUM_LOOK_HOPS + 40 : 40)); // a look may mend what was heard
      return;
    }
    const take = this.take;
    const age = now - take.strikeHop;
    const isApart = age >= this.lengths.apartS * 1000;
    const isFresh = now - take.lastStrikeHop >= ATTACK_HOPS;
    const isNext = jump === 'low' && (isApart ? isFresh : age >= ATTACK_HOPS && this.dwarfs(now, take));
    if (isNext) {
      const strike = now - 6;
      this.close(strike, strike * this.hop, verdicts, isApart ? undefined : 'noise');
      this.open(now, false);
      return;
    }
    if (jump !== undefined && isFresh && !isApart) {
      take.lastStrikeHop = now;
      take.againHops.push(now);
    }
    const quiet = age >= 1000 && this.trace.low(now - 100, now) < 1.6 * take.roomPower;
    if (age >= this.lengths.afterS * 1000 || quiet) this.close(now, this.heard, verdicts);
  }

  /**
   * Whether a strike is far louder than a take that may be no strike at all: the room's noise, or a bump of it. What is
   * louder still is the tap in any case: the ring of a touch before it has the same modes.
   */
  private dwarfs(now: number, take: OpenTake): boolean {
    let most = 0;
    for (let hop = take.strikeHop - 4; hop < now - 12; hop += 4) most = Math.max(most, this.trace.low(hop, hop + 4));
    const doubtful = !take.roomKnown || most < 40 * take.roomPower;
    return this.trace.low(now - 4, now) > (doubtful ? 4 : FAR_LOUDER) * most;
  }

  /** The hop of the strike itself, where a bump opened the take some milliseconds before it: the first of nearly full strength. */
  private struckHop(take: OpenTake): number {
    if (!take.roomKnown) return take.strikeHop; // a recording cut at its attack has nothing before it
    const energies = Array.from({ length: 2 * ATTACK_HOPS }, (_, i) =>
      this.trace.low(take.strikeHop + i - 4, take.strikeHop + i),
    );
    const peak = Math.max(...energies);
    const first = energies.findIndex((energy) => energy >= peak / BUMP_BELOW);
    const isSharp = energies[first + SHARP_HOPS]! >= peak / SHARP_BELOW;
    return first < BUMP_HOPS || !isSharp ? take.strikeHop : take.strikeHop + first;
  }

  private open(now: number, isCovered: boolean): void {
    this.take = {
      strikeHop: now,
      isCovered,
      hitHigh: this.trace.high(now - 6, now),
      roomPower: this.roomLow.level(this.floor()).mean,
      roomKnown: this.roomLow.heard >= 10 && this.roomLow.level().mean > 2 * SILENCE,
      lastStrikeHop: now,
      againHops: [],
    };
  }

  /** Mean square below which there is no hearing: the rounding of a recorder of few bits, else silence. */
  private floor(): number {
    return this.quantum < COARSEST ? Math.max(SILENCE, this.quantum ** 2 / 12) : SILENCE;
  }

  /** Whether a strike is so fresh that what is heard says nothing of the hum. */
  private isRinging(): boolean {
    return this.take !== undefined && this.trace.length - this.take.lastStrikeHop < 1000 * this.lengths.apartS;
  }

  /** Looks whether the last half second was room with a hum far over it; if so it is heard again as without the hum. */
  private lookForHum(): void {
    const now = this.trace.length;
    if (now < this.muted + HUM_HOPS || this.take?.roomKnown) return;
    const room = this.copy(this.heard - HUM_HOPS * this.hop, this.heard);
    const again = this.hum.look(room, this.trace.low(now - HUM_HOPS, now));
    if (again === undefined) return;
    this.meter = again.meter;
    this.trace.mend(again.energies);
    if (again.isNew) {
      this.take = undefined;
      this.roomLow = new RoomLearner();
      this.roomHigh = new RoomLearner();
      this.learnFrom = now - HEARD_AGAIN_HOPS;
    }
    this.learnUpTo(now - 40);
  }

  /** Teach the room what was heard between takes, in cells of 4 hops, up to a hop. */
  private learnUpTo(hop: number): void {
    for (; this.learnFrom + 4 <= hop; this.learnFrom += 4) {
      this.roomLow.learn(this.trace.low(this.learnFrom, this.learnFrom + 4));
      this.roomHigh.learn(this.trace.high(this.learnFrom, this.learnFrom + 4));
    }
  }

  /**
   * Cut the open take at a hop and sample, judge it, and note the verdict.
   * @param overtaken what to call it where a far louder strike came upon it and nothing else is wrong with it
   */
  private close(endHop: number, endSample: number, verdicts: TapVerdict[], overtaken?: 'noise'): void {
    const take = this.take!;
    this.take = undefined;
    const cut = this.cutOut(take, endSample);
    const { tap, ring, refusal: fault } = this.judged(take, cut, endHop, endSample);
    const covered = this.coveredByHum(ring, fault, cut.clean !== undefined);
    const refusal: Refusal | undefined =
      covered ?? fault ?? (overtaken === undefined ? undefined : { because: 'not-a-tap', soundsLike: overtaken });
    const timeS = (cut.first + cut.contact) / this.sampleRateHz;
    // a stream begins with a jump from nothing to the noise of the room: that is no sound to speak of
    const isRoom = !take.roomKnown && ring.fallDb < 12;
    // what goes on and on is the room's new noise; what came and went is not
    const isBump = refusal?.because === 'too-quiet' || (refusal?.because === 'not-a-tap' && ring.fallDb < 6);
    if (isRoom || (isBump && covered === undefined)) this.learnUpTo(endHop);
    this.learnFrom = endHop;
    if (refusal === undefined) verdicts.push({ kind: 'accepted', timeS, tap, aboveRoomDb: ring.aboveRoomDb });
    else if (take.isCovered || (!isRoom && ring.aboveRoomDb >= NOTICED_DB))
      verdicts.push({ kind: 'refused', timeS, refusal, tap });
  }

  /** The sound of a take from the quiet before its contact on, and the same without the hum where one was taken off. */
  private cutOut(take: OpenTake, endSample: number): Cut {
    const rate = this.sampleRateHz;
    const strikeHop = this.struckHop(take);
    const bumped = strikeHop !== take.strikeHop;
    const struck = (strikeHop - 4) * this.hop;
    const first = Math.max(0, struck - Math.round((this.lengths.beforeS + 0.02) * rate));
    const sound = this.copy(first, endSample);
    const roomEnd = struck - first - Math.round(CONTACT_BACK_S * rate);
    const clean = this.hum.takeOff(sound, [this.quietBefore(take, first, struck - first), roomEnd]);
    const contact = contactIndex(clean ?? sound, rate, struck - first, bumped ? BUMPED_BACK_S : undefined);
    const quietFrom = this.quietBefore(take, first, contact);
    const tap = { samples: sound.slice(quietFrom), sampleRateHz: rate, onsetIndex: contact - quietFrom };
    return { strikeHop, first, contact, tap, heard: (clean ?? sound).subarray(quietFrom), clean };
  }

  private judged(take: OpenTake, cut: Cut, endHop: number, endSample: number): Judgement {
    const { strikeHop, first, contact, tap, heard, clean } = cut;
    const length = Math.max(0, endHop - strikeHop - 8); // the next strike may have begun unseen in the last hops
    const bands =
      clean === undefined ? this.trace.bands(strikeHop - 4, length) : this.bandsOf(clean, first, strikeHop - 4, length);
    return judge(
      {
        tap,
        heard,
        ...bands,
        roomPower: take.roomPower,
        apartS: this.lengths.apartS,
        isWhole: take.roomKnown && endHop - take.strikeHop >= 1000 * this.lengths.afterS,
        ...(this.lost.to > first + contact && this.lost.from < endSample && { isLossKnown: true }),
        strikes: take.againHops
          .filter((hop) => hop >= strikeHop + ATTACK_HOPS)
          .map((hop) => ((hop - strikeHop) * this.hop) / this.sampleRateHz),
      },
      this.limits,
    );
  }

  /**
   * What stands out of the room but not of a hum that could not be taken off it: there was too little quiet to read the hum
   * from, or the hum did not go on as it was.
   */
  private coveredByHum(ring: Ring, fault: Refusal | undefined, isTakenOff: boolean): Refusal | undefined {
    if (!this.hum.isFollowing) return undefined;
    const isLeft = isTakenOff && ring.endAboveRoomDb > 6 && ring.fallDb < 12;
    const isUnread = !isTakenOff && fault === undefined;
    const aboveRoomDb = decibels(ring.power) - this.hum.levelDb;
    if (!(isLeft || isUnread) || aboveRoomDb >= this.limits.loudEnoughDb) return undefined;
    return { because: 'too-quiet', aboveRoomDb };
  }

  /** Bands by hop of a take, from a hop on. */
  private bandsOf(
    sound: Float32Array,
    first: number,
    fromHop: number,
    length: number,
  ): ReturnType<EnergyTrace['bands']> {
    const firstHop = Math.ceil(first / this.hop);
    const again = new EnergyTrace();
    again.mend(energiesOf(sound.subarray(firstHop * this.hop - first), new BandMeter(this.sampleRateHz)));
    return again.bands(fromHop - firstHop, length);
  }

  /** Where the quiet before the contact begins in a cut of sound: the ring of the tap before is not room. */
  private quietBefore(take: OpenTake, first: number, contact: number): number {
    const loud = 8 * take.roomPower;
    let hop = Math.floor((first + contact) / this.hop) - 8;
    while (hop * this.hop > first && this.trace.low(hop - 20, hop) < loud) hop -= 5;
    const wanted = contact - Math.round(this.lengths.beforeS * this.sampleRateHz);
    if (!take.roomKnown) return Math.max(0, wanted);
    const from = hop * this.hop > first ? hop * this.hop - first : 0;
    return Math.min(contact, Math.max(0, from, wanted));
  }

  /** Samples [from, to) of the stream, as far as they are still kept. */
  private copy(from: number, to: number): Float32Array {
    const start = Math.max(from, this.heard - this.kept.length);
    return Float32Array.from({ length: to - start }, (_, i) => this.kept[(start + i) % this.kept.length]!);
  }
}

/**
 * The taps of a whole recording, by the same path as the microphone.
 * @param samples one channel, (n,), full scale = 1
 * @throws RangeError for a rate outside 8000 to 192 000 Hz
 */
export function splitTaps(samples: Float32Array, sampleRateHz: number): readonly TapVerdict[] {
  const listener = new TapListener(sampleRateHz);
  return [...listener.push(samples), ...listener.flush()];
}
