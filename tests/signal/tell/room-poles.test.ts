// When a pole of the taps is the room's: both frequency and Q agree, by hand.
import { expect, test } from 'vitest';
import { isOfRoom } from '../../../src/signal/tell/room-poles.ts';

const room = { frequencyHz: { value: 100, sigma: 0.1 }, q: { value: 50, sigma: 1 } };
const lnQ = (value: number) => ({ value: Math.log(50) + value, sigma: 0.02 });
const hz = (value: number) => ({ value: 100 + value, sigma: 0.1 });

test('frequencies agree within three of both sigmas and a tenth of the room’s bandwidth', () => {
  // 3 sqrt(0.1^2 + 0.1^2) + 0.1 (100 / 50) = 0.6243 Hz
  for (const side of [1, -1])
    expect([0, 0.62, 0.63].map((by) => isOfRoom(room, hz(side * by), lnQ(0)))).toEqual([true, true, false]);
});

test('so do the logarithms of Q, within three of both sigmas and 0.15', () => {
  // 3 sqrt(0.02^2 + (1 / 50)^2) + 0.15 = 0.2349
  for (const side of [1, -1])
    expect([0, 0.234, 0.236].map((by) => isOfRoom(room, hz(0), lnQ(side * by)))).toEqual([true, true, false]);
});
