// The room around an invented tap: its noise, its mains hum and its reverberation.
import type { Random } from './random.ts';

/** How a room answers a sound. */
export interface Reverberation {
  /** the room's own modes: frequency Hz, Q, level against the direct sound's antinode */
  readonly modes: readonly { readonly frequencyHz: number; readonly q: number; readonly level: number }[];
  /** time for the diffuse tail to fall by 60 dB, s */
  readonly t60S: number;
  /** level of the diffuse tail against the direct sound, energy of the whole tail, linear in amplitude */
  readonly tail: number;
}

/**
 * Room noise with a power spectrum flat to 80 Hz and falling as 1/f^3 above (-9 dB an octave), over a white floor.
 * @param rms     root mean square of the result, full scale = 1
 * @param floorDb white floor against the whole, dB, below 0
 * Source: poles and zeros interlaced an octave apart give half an integrator, G. Corsini and R. Saletti, IEEE Trans.
 * Instrum. Meas. 37 (1988) 615 (from memory); slope checked in tests/demo/room.test.ts.
 */
export function roomNoise(
  length: number,
  sampleRateHz: number,
  rms: number,
  chance: Random,
  floorDb = -40,
): Float64Array {
  const out = Float64Array.from({ length }, () => chance.normal());
  lowPass(out, 80, sampleRateHz);
  for (let pole = 80; pole < sampleRateHz / 4; pole *= 4) {
    lowPass(out, pole * Math.SQRT1_2, sampleRateHz, 2 * pole * Math.SQRT1_2);
  }
  const gain = rms / Math.max(rootMeanSquare(out), 1e-30);
  const floor = rms * 10 ** (floorDb / 20);
  for (let n = 0; n < length; n++) out[n] = out[n]! * gain + floor * chance.normal();
  return out;
}

/** One real pole, and a zero where given, unit gain at 0 Hz, in place. Bilinear transform with warped corners. */
function lowPass(x: Float64Array, poleHz: number, sampleRateHz: number, zeroHz = Number.POSITIVE_INFINITY): void {
  const pole = Math.tan((Math.PI * poleHz) / sampleRateHz);
  const zero = Number.isFinite(zeroHz) ? Math.tan((Math.PI * zeroHz) / sampleRateHz) : Number.POSITIVE_INFINITY;
  const a1 = (pole - 1) / (pole + 1);
  const share = Number.isFinite(zero) ? pole / zero : 0;
  const b0 = (pole + share) / (pole + 1);
  const b1 = (pole - share) / (pole + 1);
  let before = 0;
  let y = 0;
  for (let n = 0; n < x.length; n++) {
    const now = x[n]!;
    y = b0 * now + b1 * before - a1 * y;
    before = now;
    x[n] = y;
  }
}

function rootMeanSquare(x: Float64Array): number {
  let sum = 0;
  for (const value of x) sum += value * value;
  return Math.sqrt(sum / Math.max(1, x.length));
}

/**
 * Add mains hum: the line and its harmonics, each at its own random phase.
 * @param lineHz    50 or 60, or what the mains really have, Hz
 * @param levels    amplitude of the line and of each further harmonic, full scale = 1
 * @param fromS     time it is switched on, s
 */
export function addHum(
  sound: Float64Array,
  sampleRateHz: number,
  lineHz: number,
  levels: readonly number[],
  chance: Random,
  fromS = 0,
): void {
  const first = Math.max(0, Math.round(fromS * sampleRateHz));
  levels.forEach((level, k) => {
    const step = (2 * Math.PI * lineHz * (k + 1)) / sampleRateHz;
    const phase = chance.between(0, 2 * Math.PI);
    for (let n = first; n < sound.length; n++) sound[n] = sound[n]! + level * Math.sin(step * n + phase);
  });
}

/**
 * The sound as a microphone in the room hears it: direct, ringing in the room's own modes, and a diffuse tail.
 * The tail is sparse random signed pulses under an exponential (velvet noise): M. Karjalainen and H. Jarvelainen,
 * AES 30th Int. Conf. (2007) (from memory).
 */
export function reverberated(
  dry: Float64Array,
  sampleRateHz: number,
  room: Reverberation,
  chance: Random,
): Float64Array {
  const wet = Float64Array.from(dry);
  for (const mode of room.modes) {
    const omega = (2 * Math.PI * mode.frequencyHz) / sampleRateHz;
    const radius = Math.exp(-omega / (2 * mode.q));
    const a1 = 2 * radius * Math.cos(omega);
    const a2 = -radius * radius;
    // unit gain at resonance times the level
    const gain = mode.level * (1 - radius) * 2 * Math.sin(omega);
    let y1 = 0;
    let y2 = 0;
    for (let n = 0; n < dry.length; n++) {
      const y = gain * dry[n]! + a1 * y1 + a2 * y2;
      y2 = y1;
      y1 = y;
      wet[n] = wet[n]! + y;
    }
  }
  if (room.tail <= 0) return wet;
  const density = 1200; // pulses a second, enough to sound smooth (same source)
  const spacing = sampleRateHz / density;
  const count = Math.floor(room.t60S * density);
  const decay = Math.log(1000) / room.t60S;
  let energy = 0;
  const pulses = Array.from({ length: count }, (_, i) => {
    const at = Math.round((i + 1 + chance.uniform()) * spacing);
    const height = (chance.uniform() < 0.5 ? -1 : 1) * Math.exp((-decay * at) / sampleRateHz);
    energy += height * height;
    return { at, height };
  });
  const scale = room.tail / Math.sqrt(Math.max(energy, 1e-30));
  for (const { at, height } of pulses) {
    const gain = height * scale;
    for (let n = at; n < wet.length; n++) wet[n] = wet[n]! + gain * dry[n - at]!;
  }
  return wet;
}
