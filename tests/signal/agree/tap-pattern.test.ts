// The pattern over the taps on sounds that neither the estimator nor the demo models: rooms by their images.
import { describe, expect, test } from 'vitest';
import { ofPiece } from '../../../src/signal/agree/tap-pattern.ts';
import { fitRound } from '../../../src/signal/round.ts';
import { type Cell, furnishedRound, scoreOf } from '../../bench/furnished-rounds.ts';

const near: Cell = { source: 'dipole', distanceM: 0.15, t60S: 0.4 };
const far: Cell = { source: 'monopole', distanceM: 0.6, t60S: 0.4 };
const rounds = (cell: Cell) => [1, 2, 3].map((spots) => furnishedRound(cell, 760_000_000 + spots, spots));

describe('a plate near the microphone', () => {
  test('its modes are found, as good as surely, and nothing else', () => {
    const fits = rounds(near).map((round) => ({ round, fit: fitRound([round.taps]) }));
    const scores = fits.map(({ round, fit }) => scoreOf(round, fit.modes));
    expect(scores.reduce((sum, { spurious }) => sum + spurious, 0)).toBe(0);
    const share =
      scores.reduce((sum, { found }) => sum + found, 0) / scores.reduce((sum, { truths }) => sum + truths, 0);
    expect(share).toBeGreaterThan(0.85);
    // Forty modes run together above: what is told of those may well be in doubt.
    const told = fits.flatMap(({ fit }) => fit.modes).filter(({ frequencyHz }) => frequencyHz.value < 590);
    expect(told.length).toBeGreaterThan(15);
    for (const { ofPiece = 1 } of told) expect(ofPiece).toBeGreaterThan(0.9);
  });
});

describe('far away in a room that answers', () => {
  test('the page is told to come nearer, and what is told is in doubt more often', () => {
    const fits = rounds(far).map((round) => fitRound([round.taps]));
    for (const fit of fits) expect(fit.roomAnswerDb, 'dB').toBeLessThan(0);
    const told = fits.flatMap(({ modes }) => modes);
    expect(told.some((mode) => mode.ofPiece! < 0.95)).toBe(true);
    for (const mode of told) expect(mode.ofPiece).toBeGreaterThan(0.6);
  });
});

test('how loud the sounds are says nothing of whose a mode is', () => {
  const [{ taps }] = rounds(far) as [ReturnType<typeof furnishedRound>];
  const told = (of: typeof taps) => fitRound([of]).modes.map((mode) => mode.ofPiece!);
  const asHeard = told(taps);
  expect(asHeard.length).toBeGreaterThan(2);
  // by a power of two, so that no sample is rounded
  const quieter = told(taps.map((tap) => ({ ...tap, samples: tap.samples.map((x) => x / 64) })));
  expect(quieter).toHaveLength(asHeard.length);
  for (const [m, probability] of asHeard.entries()) expect(quieter[m]).toBeCloseTo(probability, 9);
});

test('one or two taps have no pattern: nothing is said of whose a mode is', () => {
  const [round] = rounds(near);
  for (const taps of [1, 2])
    for (const mode of fitRound([round!.taps.slice(0, taps)]).modes) expect(mode).not.toHaveProperty('ofPiece');
});

test('the probability rises with the evidence and falls with the doubt of Q', () => {
  expect(ofPiece(100, 0.1)).toBeGreaterThan(ofPiece(5, 0.1));
  expect(ofPiece(5, 0.1)).toBeGreaterThan(ofPiece(-5, 0.1));
  expect(ofPiece(5, 0.1)).toBeGreaterThan(ofPiece(5, 0.6));
  for (const ln of [-1e6, -1, 0, 1, 1e6]) {
    expect(ofPiece(ln, 0)).toBeGreaterThan(0);
    expect(ofPiece(ln, 0)).toBeLessThan(1);
  }
});
