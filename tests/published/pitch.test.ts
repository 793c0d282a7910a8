import { describe, expect, test } from 'vitest';
import { isNoteKnown, nearestNote } from '../../src/quantity/pitch.ts';

describe('notes', () => {
  test('A4 is 440 Hz (ISO 16:1975), and C4 lies nine equal semitones below it', () => {
    expect(nearestNote(440, 440)).toEqual({ name: 'A', octave: 4, cents: 0 });
    const c4 = nearestNote(440 * 2 ** (-9 / 12), 440);
    expect([c4.name, c4.octave]).toEqual(['C', 4]);
    expect(c4.cents).toBeCloseTo(0, 9);
  });

  // Equal-tempered frequencies to 0.1 Hz as in any table of notes (from memory).
  test.each([
    ['E', 2, 82.4],
    ['G', 2, 98.0],
    ['F♯', 3, 185.0],
    ['B', 3, 246.9],
    ['E', 4, 329.6],
  ])('%s%i is %f Hz', (name, octave, hz) => {
    const note = nearestNote(hz, 440);
    expect([note.name, note.octave]).toEqual([name, octave]);
    expect(Math.abs(note.cents)).toBeLessThan(1.2);
  });

  test('with A4 at 432 Hz the note 432 Hz is in tune and 440 Hz is 31.8 cents sharp', () => {
    expect(nearestNote(432, 432).cents).toBe(0);
    expect(nearestNote(440, 432).cents).toBeCloseTo(1200 * Math.log2(440 / 432), 9);
  });

  test('half a semitone from the note is 50 cents at most', () => {
    for (let hz = 60; hz < 900; hz += 1.37) expect(Math.abs(nearestNote(hz, 440).cents)).toBeLessThanOrEqual(50);
  });

  test('is known where the 95 % interval is narrower than the 5.95 % between two semitones', () => {
    // 2^(1/12) = 1.05946, so half a semitone is 2.93 % of the lower note
    expect(isNoteKnown({ value: 200, sigma: 5.8 / 1.96 })).toBe(true);
    expect(isNoteKnown({ value: 200, sigma: 6 / 1.96 })).toBe(false);
  });
});
