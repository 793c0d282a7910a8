// What levels say of a shape, against fingers that land beside their spots by lot on plates whose shapes are known in closed form.
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { levelEvidence, likeliestStrengths, type ShapedLevel } from '../../src/forecast/spot-levels.ts';

/** A hinged rectangle of 400 x 300 mm. Source: A. W. Leissa, Vibration of Plates, NASA SP-160 (1969), eq. 4.19. */
const mode = (m: number, n: number) => {
  const [kx, ky] = [(m * Math.PI) / 400, (n * Math.PI) / 300];
  return {
    w: (x: number, y: number) => Math.sin(kx * x) * Math.sin(ky * y),
    steepness: (x: number, y: number) =>
      Math.hypot(kx * Math.cos(kx * x) * Math.sin(ky * y), ky * Math.sin(kx * x) * Math.cos(ky * y)),
  };
};
type Mode = ReturnType<typeof mode>;
/** Seven spots, three of them on or beside node lines of the modes below. */
const spots = [
  [130, 150],
  [205, 150],
  [90, 80],
  [270, 95],
  [135, 225],
  [330, 155],
  [60, 190],
] as const;

const levelsOn = (shape: Mode, levelsDb: readonly number[]): ShapedLevel[] =>
  levelsDb.map((levelDb, i) => {
    const [x, y] = spots[i]!;
    const at = { deflection: shape.w(x, y), steepnessPerMm: shape.steepness(x, y) };
    return { place: `${i}`, levelDb, isAtMost: false, shape: at };
  });
const none = new Map<string, number>();

/** Levels of a mode under fingers 4 mm beside their spots, of taps that scatter by 30 %, on a piece whose shape is a tenth another. */
function tapped(chance: ReturnType<typeof randomFrom>, shape: Mode, count: number): number[] {
  const other = mode(1 + Math.floor(3 * chance.uniform()), 1 + Math.floor(3 * chance.uniform()));
  const share = 0.1 * chance.normal();
  return spots.slice(0, count).map(([x, y]) => {
    const [px, py] = [x + 4 * chance.normal(), y + 4 * chance.normal()];
    const size = Math.abs(shape.w(px, py) + share * other.w(px, py));
    return 20 * Math.log10(size * Math.exp(0.3 * chance.normal()) + 1e-4) + 1.5 * chance.normal() - 17;
  });
}

describe('the evidence of levels', () => {
  test('a mode that should ring on a node line may be fainter there by far, and not where it should be loud', () => {
    const shape = mode(2, 1);
    const expected = spots.map(([x, y]) => 20 * Math.log10(Math.max(0.1, Math.abs(shape.w(x, y)))));
    const evidence = (place: number, byDb: number) =>
      levelEvidence(levelsOn(shape, expected.with(place, expected[place]! - byDb)), none);
    // The second spot lies 5 mm beside the node line across, the first on the crest.
    expect(evidence(1, 0) - evidence(1, 12)).toBeLessThan(4);
    expect(evidence(0, 0) - evidence(0, 12)).toBeGreaterThan(6);
    // Far louder than it can be is as odd there as anywhere: no finger lands 60 mm off.
    expect(evidence(1, 0) - evidence(1, -20)).toBeGreaterThan(5);
  });

  test('of two shapes it says how much likelier each is: one in ten is said of one in ten', () => {
    const [a, b] = [mode(2, 1), mode(1, 2)];
    const chance = randomFrom(4711);
    const bins = Array.from({ length: 5 }, () => ({ said: 0, are: 0, count: 0 }));
    for (let trial = 0; trial < 6000; trial++) {
      const isA = chance.uniform() < 0.5;
      const levels = tapped(chance, isA ? a : b, 3);
      const odds = Math.exp(
        0.5 * (levelEvidence(levelsOn(a, levels), none) - levelEvidence(levelsOn(b, levels), none)),
      );
      const said = odds / (1 + odds);
      const bin = bins[Math.min(4, Math.floor(5 * said))]!;
      bin.said += said;
      bin.are += isA ? 1 : 0;
      bin.count++;
    }
    for (const { said, are, count } of bins) {
      // Where few fall, chance alone makes two of its spreads.
      const spread = Math.sqrt(0.25 / Math.max(1, count));
      if (count > 50) expect(Math.abs(said - are) / count).toBeLessThan(0.12 + 2 * spread);
    }
    expect(bins[0]!.count + bins[4]!.count).toBeGreaterThan(4000);
  });

  test('more spots never make it worse: of six shapes the right one is told oftener with each', () => {
    const shapes = [mode(1, 1), mode(2, 1), mode(1, 2), mode(2, 2), mode(3, 1), mode(3, 2)];
    const rightOf = (count: number) => {
      const chance = randomFrom(815);
      let right = 0;
      for (let trial = 0; trial < 1500; trial++) {
        const is = trial % shapes.length;
        const levels = tapped(chance, shapes[is]!, count);
        const each = shapes.map((shape) => levelEvidence(levelsOn(shape, levels), none));
        if (each.indexOf(Math.max(...each)) === is) right++;
      }
      return right / 1500;
    };
    const shares = [1, 2, 3, 5, 7].map(rightOf);
    for (const [i, share] of shares.slice(1).entries()) expect(share).toBeGreaterThan(shares[i]! - 0.01);
    // One spot says nothing: a sixth. Seven say nearly all.
    expect(shares[0]).toBeCloseTo(1 / 6, 6);
    expect(shares.at(-1)).toBeGreaterThan(0.85);
  });

  test('one level, or none that was heard, says nothing', () => {
    const shape = mode(1, 1);
    expect(levelEvidence(levelsOn(shape, [-20]), none)).toBe(0);
    const silent = levelsOn(shape, [-20, -30]).map((level) => ({ ...level, isAtMost: true }));
    expect(levelEvidence(silent, none)).toBe(0);
  });

  test('how hard each spot was tapped is told from several modes at once', () => {
    // At places where both of these modes ring.
    const places = [0, 2, 3];
    const strengthsDb = [5, -5, 0];
    const modes = [mode(1, 1), mode(2, 1)].map((shape, k) =>
      levelsOn(
        shape,
        spots.map(
          (at, i) => (strengthsDb[places.indexOf(i)] ?? 0) - 6 * k + 20 * Math.log10(Math.abs(shape.w(at[0], at[1]))),
        ),
      ).filter((_, i) => places.includes(i)),
    );
    let strengths: ReadonlyMap<string, number> = none;
    for (let pass = 0; pass < 4; pass++) strengths = likeliestStrengths(modes, strengths);
    const [loud, faint, even] = places.map((place) => strengths.get(`${place}`)!);
    // Two modes of 3 dB each against a spread of 2.6 dB: six tenths of it are believed, to whole dB.
    expect(loud! - even!).toBeGreaterThan(1.5);
    expect(even! - faint!).toBeGreaterThan(1.5);
    expect(loud! - faint!).toBeLessThan(10);
  });
});
