// The next pass against chance drawn by lot, against arithmetic by hand, and against what must hold of any pass.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { deepestPassMm, foreseenBend, nextPass, oddsOfPass, type PassTarget } from '../../src/forecast/next-pass.ts';

const of = (value: number, sigma: number) => ({ value, sigma });
const target = (more: Partial<PassTarget> = {}): PassTarget => ({
  frequencyHz: 182,
  toleranceHz: 1.5,
  nowHz: of(186, 0.3),
  hzPerMm: of(-5, 1),
  ...more,
});

describe('where a pass leads, by hand', () => {
  test('reading, slope, blade and weather add as independent spreads do', () => {
    const { landsAt, chancePast, chanceWithin } = oddsOfPass([target({ weatherHz: 0.2 })], 0.6, 0.1);
    // 186 - 5 x 0.6 = 183; 0.3, 1 x 0.6 and 0.2 Hz; the blade's 0.1 by a slope of 5 with 1, (25 + 1) x 0.01.
    const sigma = Math.sqrt(0.09 + 0.36 + 0.26 + 0.04);
    expect(landsAt[0]!.value).toBeCloseTo(183, 12);
    expect(landsAt[0]!.sigma).toBeCloseTo(sigma, 12);
    // 180.5 lies 2.8868 sigma below 183, 183.5 lies 0.5774 above: 0.00195 and 0.71815 (any table of the normal distribution).
    expect(chancePast).toBeCloseTo(0.00195, 5);
    expect(chanceWithin).toBeCloseTo(0.71815 - 0.00195, 4);
  });

  test('a bend adds by the square of the depth, its spread too, and the blade works at the slope that is there by then', () => {
    const bent = target({ hzPerMm: of(-5, 0), hzPerMm2: of(-2, 0.5), nowHz: of(186, 0) });
    const [lands] = oddsOfPass([bent], 0.5, 0.1).landsAt;
    expect(lands!.value).toBeCloseTo(186 - 2.5 - 0.5, 12);
    // d/dd (-5 d - 2 d^2) at 0.5 is -7, with 2 x 0.5 x 0.5.
    expect(lands!.sigma).toBeCloseTo(Math.hypot(0.5 * 0.25, 0.1 * Math.hypot(7, 0.5)), 12);
    expect(foreseenBend(-5, -2)).toEqual(of(-2, Math.hypot(0.5 * 2, 0.1 * 5)));
  });

  test('a blade that errs on each brace by itself errs less', () => {
    const [lands] = oddsOfPass(
      [target({ nowHz: of(186, 0), hzPerMm: of(-5, 0), bladeHzPerMm: -5 / Math.SQRT2 })],
      1,
      0.1,
    ).landsAt;
    expect(lands!.sigma).toBeCloseTo(0.5 / Math.SQRT2, 12);
  });

  test('a move as sure as the forecast halves the way between them', () => {
    const measured = target({ nowHz: of(186, 0), moves: [{ depthMm: of(1, 0), hz: of(-7, 1) }] });
    const [lands] = oddsOfPass([measured], 1, 0).landsAt;
    expect(lands!.value).toBeCloseTo(186 - 6, 9);
    // Missed by 2 with an allowance of sqrt 2: (4 + 2) / 5 widens the sqrt(1/2) that is left.
    expect(lands!.sigma).toBeCloseTo(Math.sqrt(0.5) * Math.sqrt(6 / 5), 9);
    const asForeseen = target({ nowHz: of(186, 0), moves: [{ depthMm: of(1, 0), hz: of(-5, 1) }] });
    expect(oddsOfPass([asForeseen], 1, 0).landsAt[0]!.sigma).toBeCloseTo(Math.sqrt(0.5), 9);
  });

  test('a move that ends at the reading of now shares its error: where the reading is high the move is small', () => {
    const moves = [{ depthMm: of(1, 0), hz: of(-7, 0.5), endsNow: true }];
    const [lands] = oddsOfPass([target({ nowHz: of(186, 0.4), moves })], 1, 0).landsAt;
    // Reading 0.16, slope 1, and 0.25 less the 0.16 shared: 2 Hz missed out of 1.25 move the reading by 0.16 / 1.25 of it, the
    // slope by 1 / 1.25.
    expect(lands!.value).toBeCloseTo(186 + (2 * 0.16) / 1.25 - 5 - 2 / 1.25, 9);
    // 0.16 + 1 less what the move told of their sum, (1 - 0.16)^2 / 1.25, widened for a miss of 4 / 1.25 by (4 + 3.2) / 5.
    expect(lands!.sigma).toBeCloseTo(Math.sqrt((1.16 - 0.84 ** 2 / 1.25) * (7.2 / 5)), 9);
  });

  test('past moves lie on the bend behind: slope and bend of a parabola are found from two of them', () => {
    // f(x) = 186 - 5 x - 2 x^2 about now: from -2 to -1 mm it moves by (5 - 2) - (10 - 8) = 1, from -1 to now by -3.
    const f = (x: number) => -5 * x - 2 * x * x;
    const moves = [-2, -1].map((x) => ({ depthMm: of(1, 0), hz: of(f(x + 1) - f(x), 0.001) }));
    const open = target({ nowHz: of(186, 0), hzPerMm: of(-4, 10), hzPerMm2: of(0, 10), moves });
    expect(oddsOfPass([open], 0.5, 0).landsAt[0]!.value).toBeCloseTo(186 + f(0.5), 2);
  });

  test('a scaled move tells of the slope alone', () => {
    const scaled = (isScaled: boolean) =>
      target({ nowHz: of(186, 0), hzPerMm2: of(-2, 0), moves: [{ depthMm: of(2, 0), hz: of(-10, 0.01), isScaled }] });
    expect(oddsOfPass([scaled(true)], 1, 0).landsAt[0]!.value).toBeCloseTo(186 - 5 - 2, 2);
    // Unscaled, the stretch behind was flatter by 2 x 2: the slope now is -5 - 4.
    expect(oddsOfPass([scaled(false)], 1, 0).landsAt[0]!.value).toBeCloseTo(186 - 9 - 2, 1);
  });
});

describe('against chance drawn by lot', () => {
  // Everything is drawn as it is told and weighed by what was measured; nothing is made linear.
  const DRAWS = 100_000;
  const density = (x: number, sigma: number) => Math.exp(-((x / sigma) ** 2) / 2);

  test('a mode with a measured move that ends at the reading of now', () => {
    const random = randomFrom(20261130);
    const asked = target({
      nowHz: of(184.6, 0.4),
      hzPerMm2: of(-0.6, 0.3),
      moves: [{ depthMm: of(0.6, 0.1), hz: of(-3.6, Math.hypot(0.4, 0.4)), endsNow: true }],
      weatherHz: 0.15,
    });
    let [weights, past, within, sum] = [0, 0, 0, 0];
    for (let i = 0; i < DRAWS; i++) {
      const error = 0.4 * random.normal();
      const [slope, bend] = [-5 + random.normal(), -0.6 + 0.3 * random.normal()];
      const depth = 0.6 + 0.1 * random.normal();
      const moved = slope * depth - bend * depth * depth;
      const weight = density(-3.6 - (moved - error), 0.4);
      const d = 0.5 + 0.1 * random.normal();
      const lands = 184.6 + error + slope * d + bend * d * d + 0.15 * random.normal();
      weights += weight;
      sum += weight * lands;
      if (lands < 180.5) past += weight;
      else if (lands <= 183.5) within += weight;
    }
    const odds = oddsOfPass([asked], 0.5, 0.1);
    // A hundred thousand draws are good to 0.3 in a hundred; slope times blade is no normal number, and its longer tail costs
    // half a hundredth, the last figure that is told.
    expect(Math.abs(odds.chancePast - past / weights)).toBeLessThan(0.01);
    expect(Math.abs(odds.chanceWithin - within / weights)).toBeLessThan(0.01);
    expect(Math.abs(odds.landsAt[0]!.value - sum / weights)).toBeLessThan(0.03);
  });

  test('two modes that share the blade: both within, and either past', () => {
    const random = randomFrom(7);
    const other = target({ frequencyHz: 330, toleranceHz: 2, nowHz: of(334, 0.3), hzPerMm: of(-9, 0.8) });
    const asked = [target({ hzPerMm: of(-6, 0.5), nowHz: of(184.5, 0.3) }), other];
    let [past, within] = [0, 0];
    for (let i = 0; i < DRAWS; i++) {
      const blade = 0.15 * random.normal();
      const a = 184.5 + 0.3 * random.normal() + (-6 + 0.5 * random.normal()) * 0.5 - 6 * blade;
      const b = 334 + 0.3 * random.normal() + (-9 + 0.8 * random.normal()) * 0.5 - 9 * blade;
      if (a < 180.5 || b < 328) past++;
      if (Math.abs(a - 182) <= 1.5 && Math.abs(b - 330) <= 2) within++;
    }
    const odds = oddsOfPass(asked, 0.5, 0.15);
    // Four sigma of so many draws are 0.6 in a hundred at most.
    expect(Math.abs(odds.chancePast - past / DRAWS)).toBeLessThan(0.006);
    expect(Math.abs(odds.chanceWithin - within / DRAWS)).toBeLessThan(0.006);
  });
});

describe('the pass', () => {
  const limits = { mostMm: 0.8 };

  test('far from the band is the most that may go off', () => {
    const answer = nextPass([target({ nowHz: of(200, 0.3) })], limits);
    expect(answer.kind === 'pass' && answer.pass.depthMm).toBe(0.8);
  });

  test('is bound by the chance to go past, and a bolder maker goes deeper', () => {
    const unsure = target({ nowHz: of(186, 0.3), hzPerMm: of(-8, 5) });
    const depths = [0.02, 0.1, 0.3].map((chancePast) => deepestPassMm([unsure], { mostMm: 2, chancePast }));
    // 5.5 Hz to the edge. Of d mm: (5.5 - 8 d) / sqrt(0.09 + 25 d^2 + (64 + 25) 0.01) against 2.054, 1.282 and 0.524 sigma.
    const marginOf = (d: number) => (5.5 - 8 * d) / Math.sqrt(0.09 + 25 * d * d + 0.89);
    for (const [i, z] of [2.0537, 1.2816, 0.5244].entries()) {
      expect(marginOf(depths[i]!)).toBeGreaterThan(z);
      expect(marginOf(depths[i]! + 0.1)).toBeLessThan(z);
    }
    const answer = nextPass([unsure], { mostMm: 2 });
    if (answer.kind !== 'pass') throw new Error(answer.kind);
    expect(answer.pass.chancePast).toBeLessThanOrEqual(0.1);
    expect(answer.pass.depthMm).toBeLessThanOrEqual(depths[1]!);
  });

  test('without any spread goes to the target, and at its deepest to the far edge', () => {
    const sure = target({ nowHz: of(186, 0), hzPerMm: of(-5, 0) });
    const all = { mostMm: 3, bladeMm: 0 };
    // 4 Hz to the target are 0.8 mm, 5.5 to the far edge 1.1 mm.
    const answer = nextPass([sure], all);
    expect(answer.kind === 'pass' && answer.pass.depthMm).toBe(0.8);
    expect(deepestPassMm([sure], { ...all, chancePast: 0.5 })).toBe(1.1);
  });

  test('a mode that is near its far edge holds another back', () => {
    const far = target({ nowHz: of(192, 0.2) });
    const near = target({ frequencyHz: 330, nowHz: of(329.4, 0.2), hzPerMm: of(-3, 0.3) });
    expect(deepestPassMm([far], limits)).toBe(0.8);
    // 0.9 Hz to its edge: 0.1 mm leaves 0.6 with sigma sqrt(0.04 + 0.0009 + 0.09) = 0.362, 1.66 sigma; 0.2 mm leaves 0.3, 0.83 sigma.
    expect(deepestPassMm([far, near], limits)).toBe(0.1);
  });

  test('stops where no pass has better odds, where the least is too bold, and where there is no wood', () => {
    const reached = nextPass([target({ nowHz: of(182.2, 0.3) })], limits);
    expect(reached).toMatchObject({ kind: 'stop', because: 'reached' });
    // Half a hertz beyond the middle either way is 1.3 and 1.7 Hz, 4.33 and 5.67 sigma.
    expect(reached.now.chanceWithin).toBeGreaterThan(0.9999);
    const steep = target({ nowHz: of(184.5, 0.3), hzPerMm: of(-40, 8) });
    expect(nextPass([steep], limits)).toMatchObject({ kind: 'stop', because: 'risk' });
    expect(nextPass([target()], { mostMm: 0.09 })).toMatchObject({ kind: 'stop', because: 'floor' });
    expect(nextPass([target({ nowHz: of(182, 0.1) })], { mostMm: 0 })).toMatchObject({ because: 'reached' });
  });

  describe('of a slope that is hardly known', () => {
    const one = target({ nowHz: of(186, 0.3), hzPerMm: of(-6, 2) });
    const depthAt = (chancePast: number) => {
      const answer = nextPass([one], { ...limits, chancePast });
      return answer.kind === 'pass' ? answer.pass.depthMm : 0;
    };

    test('falls short rather than past: what is short can be shaved once more', () => {
      const tenths = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8];
      const odds = tenths.map((mm) => oddsOfPass([one], mm));
      const best = odds.reduce((a, b) => (b.chanceWithin > a.chanceWithin ? b : a));
      expect(depthAt(1)).toBeLessThan(best.depthMm);
      expect(depthAt(1)).toBeGreaterThan(0.2);
    });

    test('goes less deep for a maker who dares less than it would take', () => {
      const bold = oddsOfPass([one], depthAt(1));
      const depthMm = depthAt(0.9 * bold.chancePast);
      expect(depthMm).toBeCloseTo(bold.depthMm - 0.1, 9);
      expect(depthAt(1.1 * bold.chancePast)).toBe(bold.depthMm);
    });
  });

  test('a pass that betters the odds by less than one in a hundred is left', () => {
    // 0.1 mm lands 0.5 lower, sigma sqrt(0.09 + 0.01 + 0.26) = 0.6. From 182.85, within in 98.5 of 100 (2.167 sigma): 97.1 then,
    // and eight tenths of the 2.8 short make 99.3. From 182.95, in 96.7 (1.833 sigma): 95.9, and 99.1 with what is short.
    expect(nextPass([target({ nowHz: of(182.85, 0.3) })], limits).kind).toBe('stop');
    expect(nextPass([target({ nowHz: of(182.95, 0.3) })], limits).kind).toBe('pass');
  });

  test('goes on from within where the reading may well lie outside', () => {
    // 183.4 with 0.3 lies within in 63 of 100 (0.333 sigma).
    const answer = nextPass([target({ nowHz: of(183.4, 0.3) })], limits);
    expect(answer.now.chanceWithin).toBeCloseTo(0.6306, 3);
    expect(answer.kind).toBe('pass');
    if (answer.kind === 'pass') expect(answer.pass.chanceWithin).toBeGreaterThan(0.9);
  });

  test('refuses what makes no sense', () => {
    expect(() => nextPass([], limits)).toThrow('nextPass: no targets, need at least one');
    expect(() => nextPass([target()], { ...limits, chancePast: 1.2 })).toThrow('nextPass: chance 1.2, need 0..1');
  });
});

describe('of any pass', () => {
  const sigma = fc.double({ min: 0, max: 2, noNaN: true });
  const drawn = fc
    .record({
      awayHz: fc.double({ min: -3, max: 15, noNaN: true }),
      now: sigma,
      slope: fc.double({ min: -20, max: -0.5, noNaN: true }),
      spread: sigma,
    })
    .map(({ awayHz, now, slope, spread }) => target({ nowHz: of(182 + awayHz, now), hzPerMm: of(slope, spread) }));
  const most = fc.double({ min: 0, max: 2, noNaN: true });
  const blade = fc.double({ min: 0, max: 0.3, noNaN: true });

  test('it is never deeper than what may go off, nor bolder than the limit, and its odds are odds', () => {
    fc.assert(
      fc.property(fc.array(drawn, { minLength: 1, maxLength: 3 }), most, blade, (targets, mostMm, bladeMm) => {
        const answer = nextPass(targets, { mostMm, bladeMm });
        if (answer.kind === 'stop') return;
        const { depthMm, chancePast, chanceWithin } = answer.pass;
        expect(depthMm).toBeGreaterThanOrEqual(0.1);
        expect(depthMm).toBeLessThanOrEqual(mostMm + 1e-9);
        expect(chancePast).toBeLessThanOrEqual(0.1);
        expect(chanceWithin).toBeGreaterThanOrEqual(0);
        expect(chancePast + chanceWithin).toBeLessThanOrEqual(1 + 1e-9);
        expect(depthMm).toBeLessThanOrEqual(deepestPassMm(targets, { mostMm, bladeMm }));
      }),
    );
  });

  test('a wider spread of reading, slope or blade never allows a deeper one, nor does another mode', () => {
    fc.assert(
      fc.property(drawn, drawn, most, blade, (one, other, mostMm, bladeMm) => {
        const deepest = deepestPassMm([one], { mostMm, bladeMm });
        const wider: readonly (readonly [PassTarget, number])[] = [
          [{ ...one, nowHz: of(one.nowHz.value, one.nowHz.sigma + 0.3) }, bladeMm],
          [{ ...one, hzPerMm: of(one.hzPerMm.value, one.hzPerMm.sigma + 0.5) }, bladeMm],
          [one, bladeMm + 0.05],
        ];
        for (const [as, spread] of wider)
          expect(deepestPassMm([as], { mostMm, bladeMm: spread })).toBeLessThanOrEqual(deepest);
        expect(deepestPassMm([one, other], { mostMm, bladeMm })).toBeLessThanOrEqual(deepest);
      }),
    );
  });
});
