import { expect, test } from 'vitest';
import { directOverRoomDb, heardIn, type ImageRoom, plateResponse, pointResponse } from './image-room.ts';
import { ring } from './tap-signals.ts';

const rateHz = 8000;
const room: ImageRoom = { sizeM: [4, 5, 2.5], t60S: 0.4 };
const from = [1.63, 2.17, 1.08] as const;
const at = (distanceM: number, angle: number) =>
  [from[0] + distanceM * Math.cos(angle), from[1] + distanceM * Math.sin(angle), from[2] + 0.1 * distanceM] as const;
const angles = [0.3, 1.4, 2.9, 4.1, 5.2];

/** Energy of the bands of the modes alone: a room without absorption of deep sound piles it up. */
function inBand(response: Float64Array): Float64Array {
  // Differences of samples take the deep sound away, sums the high one.
  let out = response;
  for (let i = 0; i < 3; i++) out = out.map((x, n) => x - (out[n - 1] ?? 0));
  for (let i = 0; i < 6; i++) out = out.map((x, n) => x + (out[n - 1] ?? 0));
  return out;
}

test('a point source is as loud over its room as distance and reverberation have it', () => {
  for (const distanceM of [0.15, 0.3, 0.6]) {
    const db =
      angles.reduce(
        (sum, angle) =>
          sum + directOverRoomDb(inBand(pointResponse(room, from, at(distanceM, angle), rateHz)), rateHz, 0.003),
        0,
      ) / angles.length;
    // Distance of equal energy 0.057 sqrt(V / T60) m (Kuttruff, Room Acoustics, from memory); the mean of five places to 2 dB.
    const equalM = 0.057 * Math.sqrt((4 * 5 * 2.5) / 0.4);
    expect(Math.abs(db - 20 * Math.log10(equalM / distanceM)), `${distanceM} m`).toBeLessThan(2.5);
  }
});

test('near a plate, whose faces push and pull, the room is further down, and half as far helps more than of a point', () => {
  const mean = (distanceM: number, of: typeof pointResponse) =>
    angles.reduce(
      (sum, angle) => sum + directOverRoomDb(inBand(of(room, from, at(distanceM, angle), rateHz)), rateHz, 0.003),
      0,
    ) / angles.length;
  expect(mean(0.3, plateResponse) - mean(0.3, pointResponse)).toBeGreaterThan(2);
  const gained = (of: typeof pointResponse) => mean(0.15, of) - mean(0.3, of);
  expect(gained(plateResponse)).toBeGreaterThan(gained(pointResponse));
});

test('it dies away in its reverberation time', () => {
  const response = inBand(pointResponse(room, from, at(1.5, 2), rateHz));
  const energyFrom = (seconds: number) =>
    response.subarray(Math.round(seconds * rateHz)).reduce((sum, x) => sum + x * x, 0);
  // Schroeder's backward integral from -5 to -25 dB over 0.133 s of 0.4 s; equal walls are a little slow.
  const fall = 10 * Math.log10(energyFrom(0.05) / energyFrom(0.05 + 0.4 / 3));
  expect(fall).toBeGreaterThan(12);
  expect(fall).toBeLessThan(24);
});

test('a sound through a response is its convolution', () => {
  const tone = new Float64Array(500);
  ring(tone, 20, rateHz, { frequencyHz: 300, q: 20, levelDb: 0 }, 1, 0);
  const response = Float64Array.of(0, 1, 0.5, -0.25);
  const heard = heardIn(response, tone);
  for (const n of [19, 20, 21, 22, 100, 499]) {
    const sum = response.reduce((total, h, i) => total + h * (tone[n - i] ?? 0), 0);
    expect(heard[n]).toBeCloseTo(sum, 9);
  }
});
