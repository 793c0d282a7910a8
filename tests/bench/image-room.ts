// What a rectangular room makes of a sound at a place in it. Knows nothing of the estimator nor of the demo's room.
import FFT from 'fft.js';

export interface ImageRoom {
  readonly sizeM: Point;
  readonly t60S: number;
}
export type Point = readonly [number, number, number];

const SOUND_M_PER_S = 343;
/** Responses are followed for this part of the reverberation time: 66 dB. */
const FOLLOWED = 1.1;
/** A plate's two faces as two opposite sources so far apart, m. Own choice. */
const FACES_APART_M = 0.12;

/**
 * Pressure at a place from a point source, by its images: each of 1 / distance, each wall alike.
 * @returns response, the direct sound of a source at 1 m of unit area, (n,)
 * Source: Allen & Berkley, J. Acoust. Soc. Am. 65 (1979) 943; absorption by Eyring, J. Acoust. Soc. Am. 1 (1930) 217; the delay
 * of a part of a sample by Lagrange's cubic (Laakso et al., IEEE Signal Process. Mag. 13 (1996) 30), all from memory.
 */
export function pointResponse(room: ImageRoom, from: Point, to: Point, sampleRateHz: number): Float64Array {
  const [x, y, z] = room.sizeM;
  const surface = 2 * (x * y + y * z + z * x);
  const reflection = Math.exp((-0.161 * x * y * z) / (2 * surface * room.t60S));
  const count = Math.ceil(FOLLOWED * room.t60S * sampleRateHz);
  const response = new Float64Array(count + 4);
  const reachM = (count / sampleRateHz) * SOUND_M_PER_S;
  const images = ([0, 1, 2] as const).map((axis) => {
    const size = room.sizeM[axis];
    const most = Math.ceil(reachM / (2 * size)) + 1;
    return Array.from({ length: 2 * (2 * most + 1) }, (_, i) => {
      const [turn, mirrored] = [Math.floor(i / 2) - most, i % 2];
      return {
        away: (mirrored === 1 ? -from[axis] : from[axis]) + 2 * turn * size - to[axis],
        walls: Math.abs(turn - mirrored) + Math.abs(turn),
      };
    });
  });
  for (const a of images[0]!)
    for (const b of images[1]!) {
      const flat = a.away ** 2 + b.away ** 2;
      if (flat > reachM ** 2) continue;
      for (const c of images[2]!) {
        const distance = Math.sqrt(flat + c.away ** 2);
        if (distance >= reachM) continue;
        const gain = reflection ** (a.walls + b.walls + c.walls) / distance;
        const delay = (distance / SOUND_M_PER_S) * sampleRateHz;
        const at = Math.floor(delay);
        const d = delay - at + 1;
        // Four points about the arrival; a response that would begin before its start begins at it.
        response[Math.max(0, at - 1)]! += (-gain * (d - 1) * (d - 2) * (d - 3)) / 6;
        response[at]! += (gain * d * (d - 2) * (d - 3)) / 2;
        response[at + 1]! += (-gain * d * (d - 1) * (d - 3)) / 2;
        response[at + 2]! += (gain * d * (d - 1) * (d - 2)) / 6;
      }
    }
  return response;
}

/** The same of a plate, whose faces push and pull: it turns a face to the place. */
export function plateResponse(room: ImageRoom, from: Point, to: Point, sampleRateHz: number): Float64Array {
  const distance = Math.hypot(...from.map((value, axis) => to[axis]! - value));
  const face = (side: number): Point =>
    from.map(
      (value, axis) => value + (side * FACES_APART_M * (to[axis]! - value)) / (2 * distance),
    ) as unknown as Point;
  const front = pointResponse(room, face(1), to, sampleRateHz);
  pointResponse(room, face(-1), to, sampleRateHz).forEach((value, n) => {
    front[n]! -= value;
  });
  return front;
}

/** Direct over reverberant energy of a response, dB, the direct sound ending so long after the first arrival. */
export function directOverRoomDb(response: Float64Array, sampleRateHz: number, directS: number): number {
  const peak = response.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const end = response.findIndex((value) => Math.abs(value) > 0.1 * peak) + Math.round(directS * sampleRateHz);
  const energy = (from: number, to: number) => response.subarray(from, to).reduce((sum, value) => sum + value ** 2, 0);
  return 10 * Math.log10(energy(0, end) / energy(end, response.length));
}

/** A sound with the response of a room, as long as the sound. */
export function heardIn(response: Float64Array, sound: Float64Array): Float64Array {
  let size = 1;
  while (size < sound.length + response.length) size *= 2;
  const fft = new FFT(size);
  const spectrum = (x: Float64Array): number[] => {
    const padded = new Float64Array(size);
    padded.set(x);
    const out = fft.createComplexArray();
    fft.realTransform(out, padded as unknown as number[]);
    fft.completeSpectrum(out);
    return out;
  };
  const [a, b] = [spectrum(sound), spectrum(response)];
  for (let k = 0; k < size; k++) {
    const [re, im] = [
      a[2 * k]! * b[2 * k]! - a[2 * k + 1]! * b[2 * k + 1]!,
      a[2 * k]! * b[2 * k + 1]! + a[2 * k + 1]! * b[2 * k]!,
    ];
    a[2 * k] = re;
    a[2 * k + 1] = im;
  }
  const out = fft.createComplexArray();
  fft.inverseTransform(out, a);
  return Float64Array.from({ length: sound.length }, (_, n) => out[2 * n]!);
}
