// Sounds of a workshop that are not taps: what the listener must let pass. Each is made from its own physics in a few
// lines (source and filter for speech, shaped noise for blades and hands), deterministic by seed.
import type { Random } from './random.ts';
import { addHum, roomNoise } from './room.ts';

/** A kind of sound that is not a tap. */
export type OtherSound = 'noise' | 'hum' | 'speech' | 'clap' | 'scrape' | 'door' | 'typing' | 'radio' | 'planing';

export const OTHER_SOUNDS: readonly OtherSound[] = [
  'noise',
  'hum',
  'speech',
  'clap',
  'scrape',
  'door',
  'typing',
  'radio',
  'planing',
];

/**
 * A record with room noise and one sort of sound that is not a tap.
 * @param durationS length, s, at least 2
 * @returns (n,), peak between 0.02 and 0.9 of full scale, with at least 0.5 s of room noise first
 */
export function otherSound(kind: OtherSound, sampleRateHz: number, durationS: number, chance: Random): Float64Array {
  const length = Math.round(durationS * sampleRateHz);
  const sound = new Float64Array(length);
  makers[kind](sound, sampleRateHz, chance);
  let peak = 1e-9;
  for (const x of sound) peak = Math.max(peak, Math.abs(x));
  const loud = 10 ** chance.between(-1.7, -0.05);
  const gain = loud / peak;
  const rms = kind === 'noise' ? loud / 8 : loud * 10 ** (-chance.between(20, 50) / 20);
  const noise = roomNoise(length, sampleRateHz, rms, chance);
  for (let n = 0; n < length; n++) sound[n] = sound[n]! * gain + noise[n]!;
  return sound;
}

type Maker = (sound: Float64Array, sampleRateHz: number, chance: Random) => void;

const makers: Record<OtherSound, Maker> = {
  noise() {},
  hum(sound, rate, chance) {
    const line = chance.uniform() < 0.5 ? chance.between(49.9, 50.1) : chance.between(59.9, 60.1);
    const levels = Array.from({ length: 8 }, (_, k) => chance.between(0, 1) / (k + 1));
    addHum(sound, rate, line, levels, chance, 0.5 + chance.uniform());
  },
  speech(sound, rate, chance) {
    let at = 0.5;
    const end = sound.length / rate - 0.3;
    while (at < end) {
      const pauses = chance.uniform() < 0.3 ? chance.between(0.2, 0.6) : chance.between(0.01, 0.06);
      at += syllable(sound, rate, at, chance) + pauses;
    }
  },
  clap(sound, rate, chance) {
    for (let at = 0.6; at < sound.length / rate - 0.5; at += chance.between(0.5, 1.2)) {
      // one to three wave fronts of the two palms, then the room
      const fronts = 1 + Math.floor(chance.uniform() * 2.5);
      const centreHz = chance.between(600, 1800);
      for (let i = 0; i < fronts; i++) {
        burst(
          sound,
          rate,
          at + i * chance.between(0.004, 0.009),
          0.0003,
          chance.between(0.002, 0.006),
          centreHz,
          1.2,
          1,
          chance,
        );
      }
      const tail = chance.between(0.03, 0.15);
      const t60S = chance.between(0.2, 0.6);
      burst(sound, rate, at + 0.006, 0.002, t60S / 6.9, 700, 0.4, tail, chance);
    }
  },
  scrape(sound, rate, chance) {
    for (let at = 0.6; at < sound.length / rate - 0.8; at += chance.between(0.3, 0.9)) {
      const length = chance.between(0.15, 0.6);
      const flutter = chance.between(20, 90);
      stroke(sound, rate, at, length, chance.between(800, 4000), flutter, chance);
    }
  },
  planing(sound, rate, chance) {
    // long strokes of a blade: noise whose pitch is the grain's, the piece ringing along a little at every step of the grain
    for (let at = 0.6; at < sound.length / rate - 1.2; at += chance.between(0.9, 1.6)) {
      const length = chance.between(0.4, 0.9);
      stroke(sound, rate, at, length, chance.between(500, 2500), chance.between(8, 40), chance);
      burst(sound, rate, at + length, 0.002, chance.between(0.01, 0.03), chance.between(150, 400), 1.5, 0.3, chance);
    }
  },
  door(sound, rate, chance) {
    for (let at = 0.7; at < sound.length / rate - 1; at += chance.between(1, 2)) {
      // the latch, then the leaf against its frame: low shaped noise that swells over some 10 ms
      burst(sound, rate, at - chance.between(0.03, 0.09), 0.001, 0.004, 2500, 1, 0.3, chance);
      burst(
        sound,
        rate,
        at,
        chance.between(0.006, 0.02),
        chance.between(0.04, 0.12),
        chance.between(60, 160),
        0.8,
        1,
        chance,
      );
      burst(sound, rate, at + 0.004, 0.004, chance.between(0.03, 0.08), 900, 0.5, 0.2, chance);
    }
  },
  typing(sound, rate, chance) {
    for (let at = 0.6; at < sound.length / rate - 0.3; at += chance.between(0.09, 0.4)) {
      const level = chance.between(0.3, 1);
      burst(sound, rate, at, 0.0003, 0.002, chance.between(1500, 4000), 0.8, level, chance);
      burst(sound, rate, at + 0.001, 0.001, 0.012, chance.between(150, 500), 0.6, 0.4 * level, chance);
      burst(
        sound,
        rate,
        at + chance.between(0.06, 0.11),
        0.0003,
        0.002,
        chance.between(2000, 5000),
        0.8,
        0.5 * level,
        chance,
      );
    }
  },
  radio(sound, rate, chance) {
    // music: plucked and held notes over one another, and a voice between
    let at = 0.5;
    while (at < sound.length / rate - 0.2) {
      const root = chance.between(110, 440);
      for (const ratio of [1, 1.25, 1.5]) note(sound, rate, at, root * ratio, chance.between(0.2, 0.6), chance);
      if (chance.uniform() < 0.4) syllable(sound, rate, at, chance);
      at += chance.between(0.12, 0.4);
    }
  },
};

/** A burst of band-shaped noise: rise and decay as exponentials, one resonance of the given centre and Q. */
function burst(
  sound: Float64Array,
  rate: number,
  startS: number,
  riseS: number,
  decayS: number,
  centreHz: number,
  q: number,
  level: number,
  chance: Random,
): void {
  const shape = resonance(Math.min(centreHz, 0.4 * rate), q, rate);
  const first = Math.round(startS * rate);
  const last = Math.min(sound.length, first + Math.round((riseS * 5 + decayS * 9) * rate));
  for (let n = Math.max(0, first); n < last; n++) {
    const t = (n - first) / rate;
    sound[n] = sound[n]! + level * shape(chance.normal()) * (1 - Math.exp(-t / riseS)) * Math.exp(-t / decayS);
  }
}

/** One stroke of a blade: chatter-modulated noise with a slow swell and end. */
function stroke(
  sound: Float64Array,
  rate: number,
  startS: number,
  lengthS: number,
  centreHz: number,
  chatterHz: number,
  chance: Random,
): void {
  const shape = resonance(Math.min(centreHz, 0.4 * rate), 0.7, rate);
  const body = resonance(Math.min(centreHz / 6, 0.4 * rate), 1.5, rate);
  const first = Math.round(startS * rate);
  const last = Math.min(sound.length, first + Math.round(lengthS * rate));
  for (let n = first; n < last; n++) {
    const share = (n - first) / (last - first);
    const swell = Math.sin(Math.PI * share) ** 0.6;
    const chatter = 0.6 + 0.4 * Math.sin((2 * Math.PI * chatterHz * (n - first)) / rate);
    const noise = chance.normal();
    sound[n] = sound[n]! + swell * chatter * (shape(noise) + body(noise));
  }
}

/** A plucked or held note of eight partials. */
function note(
  sound: Float64Array,
  rate: number,
  startS: number,
  fundamentalHz: number,
  lengthS: number,
  chance: Random,
): void {
  const first = Math.round(startS * rate);
  const last = Math.min(sound.length, first + Math.round(lengthS * rate));
  const riseS = chance.between(0.005, 0.06);
  for (let k = 1; k <= 8 && fundamentalHz * k < 0.45 * rate; k++) {
    const level = chance.between(0.2, 1) / k;
    const phase = chance.between(0, 6.28);
    for (let n = first; n < last; n++) {
      const t = (n - first) / rate;
      const fade = Math.min(1, (last - n) / (0.03 * rate));
      sound[n] =
        sound[n]! + level * Math.min(1, t / riseS) * fade * Math.sin(2 * Math.PI * fundamentalHz * k * t + phase);
    }
  }
}

/**
 * One syllable: perhaps a plosive or hiss, then a vowel of glottal pulses through three formants. Formant ranges: G. E.
 * Peterson and H. L. Barney, J. Acoust. Soc. Am. 24 (1952) 175, table II (rounded).
 * @returns its length, s
 */
function syllable(sound: Float64Array, rate: number, startS: number, chance: Random): number {
  let at = startS;
  const opening = chance.uniform();
  if (opening < 0.4) {
    burst(
      sound,
      rate,
      at,
      0.0005,
      chance.between(0.004, 0.015),
      chance.between(700, 4000),
      0.7,
      chance.between(0.2, 1),
      chance,
    );
    at += chance.between(0.01, 0.05);
  } else if (opening < 0.6) {
    stroke(sound, rate, at, 0.09, chance.between(3000, 6000), 0, chance);
    at += 0.08;
  }
  const lengthS = chance.between(0.06, 0.3);
  const formants = [
    resonance(chance.between(270, 850), 6, rate),
    resonance(Math.min(chance.between(850, 2300), 0.4 * rate), 12, rate),
    resonance(Math.min(chance.between(2300, 3200), 0.42 * rate), 18, rate),
  ];
  const pitchHz = chance.between(85, 260);
  const glide = chance.between(-0.25, 0.15);
  const first = Math.round(at * rate);
  const last = Math.min(sound.length, first + Math.round((lengthS + 0.03) * rate));
  let phase = 0;
  for (let n = first; n < last; n++) {
    const t = (n - first) / rate;
    phase += (pitchHz * (1 + (glide * t) / lengthS)) / rate;
    let pulse = 0.02 * chance.normal();
    if (phase >= 1) {
      phase -= 1;
      pulse += 1;
    }
    const swell = Math.min(1, t / 0.025) * Math.min(1, Math.max(0, (lengthS - t) / 0.04));
    const drive = pulse * swell * 3;
    sound[n] = sound[n]! + formants[0]!(drive) + 0.6 * formants[1]!(drive) + 0.3 * formants[2]!(drive);
  }
  return at - startS + lengthS;
}

/** A two-pole resonance, unit gain at its centre, that remembers its state between samples. */
function resonance(centreHz: number, q: number, rate: number): (x: number) => number {
  const omega = (2 * Math.PI * centreHz) / rate;
  const alpha = Math.sin(omega) / (2 * q);
  const gain = alpha / (1 + alpha);
  const a1 = (-2 * Math.cos(omega)) / (1 + alpha);
  const a2 = (1 - alpha) / (1 + alpha);
  let x1 = 0;
  let x2 = 0;
  let y1 = 0;
  let y2 = 0;
  return (x) => {
    const y = gain * (x - x2) - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    return y;
  };
}
