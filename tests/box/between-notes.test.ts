import { expect, test } from 'vitest';
import { placeBetweenNotes } from '../../src/box/between-notes.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { TUNINGS } from '../../src/strings/tuning.ts';

const standard = TUNINGS[0]!;
const place = (hz: number, warning = 15) => placeBetweenNotes(estimate(hz, 0.4), 440, standard, 20, warning);

test('a top at 180.9 Hz lies 39 cents under the F♯3 of the three strings that reach it', () => {
  // invented bench day, worked by hand: 1200 log2(180.9 / 184.997) = -38.8
  const places = place(180.9);
  expect(places.map(({ note }) => note)).toEqual([64, 59, 55, 54, 54, 54]); // open E4, B3, G3; F#3 on D, A and low E
  expect(places.slice(3).map(({ fret }) => fret)).toEqual([4, 9, 14]);
  for (const { cents } of places.slice(3)) expect(cents.value).toBeCloseTo(-38.8, 1);
  expect(places[3]!.cents.sigma).toBeCloseTo((1200 / Math.LN2) * (0.4 / 180.9), 9);
  expect(places.every(({ warning }) => warning === 'clear')).toBe(true);
});

test('an air mode 11 cents above G2 warns on the low E string and only there', () => {
  const places = place(98.6);
  expect(places[5]).toMatchObject({ string: 5, fret: 3, note: 43, warning: 'near' });
  expect(places.slice(0, 5).every(({ warning }) => warning === 'clear')).toBe(true);
});

test('the warning follows the distance asked for and the uncertainty', () => {
  expect(place(98.6, 10)[5]!.warning).toBe('perhaps'); // 10.7 cents, sigma 7
  expect(place(98.6, 0)[5]!.warning).toBe('perhaps');
  expect(placeBetweenNotes(estimate(98.6, 0.02), 440, standard, 20, 5)[5]!.warning).toBe('clear');
});

test('A4 and the tuning move the notes', () => {
  const low = placeBetweenNotes(estimate(73.416, 0.1), 440, TUNINGS[1]!, 20, 15)[5]!;
  expect(low).toMatchObject({ fret: 0, note: 38, warning: 'near' }); // open D2 of drop D
  const at432 = placeBetweenNotes(estimate(98.6, 0.1), 432, standard, 20, 15)[5]!;
  expect(at432.cents.value - place(98.6)[5]!.cents.value).toBeCloseTo(1200 * Math.log2(440 / 432), 6);
});
