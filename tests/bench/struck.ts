// Taps made another way than src/demo makes them, so that what was set on those can be judged on these: each mode a
// complex resonator that is driven sample by sample by the finger's force, in a room of any colour. Knows nothing of
// what listens to it.
import { normal, type Random } from './tap-signals.ts';

/** One mode of a struck piece. */
export interface StruckMode {
  readonly frequencyHz: number;
  readonly q: number;
  /** size against the others */
  readonly level: number;
  readonly phaseRad: number;
}

export type RoomColour = 'white' | 'pink' | 'brown';

/** A piece, a room and a hand. */
export interface Struck {
  readonly sampleRateHz: number;
  readonly modes: readonly StruckMode[];
  /** the half-sine force's length, s */
  readonly contactS: number;
  /** the skin's own noise in the contact, against the force's ring */
  readonly rustle: number;
  readonly colour: RoomColour;
  /** mean square of the ring in its first 35 ms over the room's from 60 to 2000 Hz, dB */
  readonly overRoomDb: number;
  /** an offset of the converter and a rumble of 8 to 30 Hz, against the ring's root mean square */
  readonly offset: number;
  readonly rumble: number;
  /** first contact of each tap, s */
  readonly onsetsS: readonly number[];
  /** how hard each is struck against the first; all alike without it */
  readonly strengths?: readonly number[];
  readonly durationS: number;
  /** a hand that is laid on the piece: every mode's Q goes down to this within some hundredths of a second */
  readonly hand?: { readonly atS: number; readonly withinS: number; readonly q: number };
}

/** A number drawn evenly. */
export const evenly = (random: Random, least: number, most: number): number => least + (most - least) * random();
/** A number whose logarithm is drawn evenly. */
export const byRatio = (random: Random, least: number, most: number): number => least * (most / least) ** random();
/** One of some. */
export const oneOf = <T>(random: Random, some: readonly T[]): T => some[Math.floor(random() * some.length)]!;

/** A piece of one or two modes, or of three to twelve, in a room and under a hand of any kind. */
export function drawStruck(random: Random, kind: 'few' | 'many'): Struck {
  const count = kind === 'few' ? 1 + Math.floor(2 * random()) : 3 + Math.floor(10 * random());
  const modes = Array.from({ length: count }, () => ({
    frequencyHz: byRatio(random, 70, kind === 'few' ? 700 : 1000),
    q: byRatio(random, 10, 400),
    level: 10 ** (evenly(random, -15, 0) / 20),
    phaseRad: evenly(random, 0, 2 * Math.PI),
  }));
  return {
    sampleRateHz: oneOf(random, [44_100, 48_000, 96_000]),
    // a contact far longer than half a period of every mode strikes none of them
    modes,
    contactS: Math.min(byRatio(random, 0.0005, 0.004), 0.6 / Math.min(...modes.map((mode) => mode.frequencyHz))),
    rustle: random() < 0.3 ? 0 : byRatio(random, 0.005, 0.3),
    colour: oneOf(random, ['white', 'pink', 'brown'] as const),
    overRoomDb: evenly(random, 20, 60),
    offset: random() < 0.5 ? 0 : evenly(random, -0.3, 0.3),
    rumble: random() < 0.5 ? 0 : evenly(random, 0, 0.3),
    onsetsS: [evenly(random, 1.1, 1.3)],
    durationS: 3.2,
  };
}

/** The sound as a 16-bit or 24-bit microphone hears it, full scale = 1. */
export function soundOf(struck: Struck, random: Random): Float32Array<ArrayBuffer> {
  const rate = struck.sampleRateHz;
  const length = Math.round(struck.durationS * rate);
  const force = new Float64Array(length);
  const rustle = new Float64Array(length);
  const contact = Math.max(2, Math.round(struck.contactS * rate));
  for (const [k, onsetS] of struck.onsetsS.entries()) {
    const strength = struck.strengths?.[k] ?? 1;
    const from = Math.round(onsetS * rate);
    for (let n = 0; n < contact && from + n < length; n++) {
      force[from + n]! += (strength * Math.sin((Math.PI * (n + 0.5)) / contact) * Math.PI) / (2 * contact);
      rustle[from + n]! = strength * Math.sin((Math.PI * (n + 0.5)) / contact) * normal(random);
    }
  }
  const ring = new Float64Array(length);
  for (const mode of struck.modes) resonate(ring, force, mode, rate, struck.hand);
  const first = Math.round(struck.onsetsS[0]! * rate);
  const strength = rms(ring.subarray(first + Math.round(0.005 * rate), first + Math.round(0.04 * rate)));
  const room = roomOf(struck.colour, length, rate, random);
  const inBand = rms(band(room, rate).subarray(Math.round(0.2 * rate)));
  const roomGain = (strength / inBand) * 10 ** (-struck.overRoomDb / 20);
  const rumbleHz = evenly(random, 8, 30);
  const start = evenly(random, 0, 2 * Math.PI);
  const peak = ring.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const gain = byRatio(random, 0.03, 0.6) / (peak * (1 + Math.abs(struck.offset) + struck.rumble));
  const steps = random() < 0.5 ? 2 ** 15 : 2 ** 23;
  return Float32Array.from(ring, (x, n) => {
    const low = strength * (struck.offset + struck.rumble * Math.sin(start + (2 * Math.PI * rumbleHz * n) / rate));
    const whole = x + struck.rustle * strength * rustle[n]! + roomGain * room[n]! + low;
    return Math.max(-1, Math.min(1 - 1 / steps, Math.round(gain * whole * steps) / steps));
  });
}

/**
 * A sound with some of it gone, again and again, as a machine loses it that is too busy.
 * @param firstS where the first gap begins, s of the whole sound
 */
export function spliced(
  sound: Float32Array,
  rate: number,
  firstS: number,
  goneS: number,
  everyS: number,
): Float32Array {
  const gone = Math.round(goneS * rate);
  const kept = sound.filter((_, n) => {
    const since = n - Math.round(firstS * rate);
    return since < 0 || since % Math.round(everyS * rate) >= gone;
  });
  return kept;
}

/** Adds what a mode makes of a force: z[n] = pole z[n - 1] + force[n], heard at the mode's own phase. */
function resonate(out: Float64Array, force: Float64Array, mode: StruckMode, rate: number, hand?: Struck['hand']): void {
  const turn = (2 * Math.PI * mode.frequencyHz) / rate;
  const poleOf = (q: number) => [Math.cos(turn), Math.sin(turn)].map((x) => x * Math.exp(-turn / (2 * q)));
  let [poleRe, poleIm] = poleOf(mode.q) as [number, number];
  const [heardRe, heardIm] = [mode.level * Math.cos(mode.phaseRad), mode.level * Math.sin(mode.phaseRad)];
  let re = 0;
  let im = 0;
  for (let n = 0; n < out.length; n++) {
    const laid = hand === undefined ? 0 : Math.min(1, (n / rate - hand.atS) / hand.withinS);
    if (laid > 0) [poleRe, poleIm] = poleOf(1 / (1 / mode.q + laid / hand!.q)) as [number, number];
    const next = poleRe * re - poleIm * im + force[n]!;
    im = poleRe * im + poleIm * re;
    re = next;
    out[n]! += heardRe * re - heardIm * im;
  }
}

/** A room's noise: white, or falling by 3 or by 6 dB an octave above 20 Hz. */
export function roomOf(colour: RoomColour, length: number, rate: number, random: Random): Float64Array {
  const out = new Float64Array(length);
  // one pole an octave, each as loud as the next, makes 3 dB an octave within half a decibel
  const cornersHz = colour === 'pink' ? [20, 40, 80, 160, 320, 640, 1280, 2560, 5120, 10240] : [20];
  if (colour === 'white') return out.map(() => normal(random));
  for (const cornerHz of cornersHz) {
    const keep = Math.exp((-2 * Math.PI * cornerHz) / rate);
    const drive = Math.sqrt(1 - keep * keep);
    let x = normal(random);
    for (let n = 0; n < length; n++) {
      x = keep * x + drive * normal(random);
      out[n]! += x;
    }
  }
  return out;
}

/** The sound between 60 and 2000 Hz by two first-order slopes on each side, to measure its level by. */
function band(x: Float64Array, rate: number): Float64Array {
  const slow = Math.exp((-2 * Math.PI * 60) / rate);
  const fast = Math.exp((-2 * Math.PI * 2000) / rate);
  let low = 0;
  let high = 0;
  return x.map((value) => {
    low = slow * low + (1 - slow) * value;
    high = fast * high + (1 - fast) * (value - low);
    return high;
  });
}

function rms(x: Float64Array): number {
  return Math.sqrt(x.reduce((sum, value) => sum + value * value, 0) / x.length);
}
