// What the page asks of a whole top, on a board with one brace: where each mode stands, what strings do, what cannot be told.
import { describe, expect, test } from 'vitest';
import { weatherSpreadHz } from '../../src/compare/conditions.ts';
import { calibrate } from '../../src/forecast/calibration.ts';
import { type Parameter, withFactors } from '../../src/forecast/properties.ts';
import { cutPlate, forecastShaving, MOVE_ERROR_SHARE } from '../../src/forecast/shaving.ts';
import { strungAnswer } from '../../src/forecast/strung.ts';
import { type AdviceQuestion, type CheckedAdvice, topAdvice } from '../../src/forecast/top-advice.ts';
import {
  type MeasuredStep,
  namedModes,
  type TappedTopMode,
  topAgreement,
  trusted,
} from '../../src/forecast/top-agreement.ts';
import { topModes } from '../../src/forecast/top-modes.ts';
import { topShapes } from '../../src/forecast/top-shapes.ts';
import { signedArea } from '../../src/plate/outline.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { once } from '../once.ts';
import { rectangle, spruce } from '../plate/plates.ts';

const top: PlateCase = {
  outline: rectangle(260, 200),
  thicknessMm: 2.8,
  material: spruce,
  braces: [
    {
      id: 'bar',
      from: [30, 100],
      to: [230, 100],
      widthMm: 10,
      heightMm: [
        [0, 10],
        [200, 10],
      ],
      material: spruce,
    },
  ],
  edge: { kind: 'hinged', pinnedAt: 'mid-surface', rotationalStiffnessN: 5 },
};
const prepare = once(() => preparePlate(top, 200));
const silent = () => undefined;
const solved = (plate: PlateCase) => {
  const answer = plateModes(prepare(), plate, { count: 8 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer.modes;
};
const drawn = once(() => namedModes(prepare(), solved(top)));
const density: readonly Parameter[] = [{ property: 'plate density', relativeSigma: 0.1 }];
const noStiffness: PlateCase = { ...top, material: { ...spruce, eL: -1, eR: -1, gLR: -1 } };
const tap = (mode: number, share = 1, sigma = 0.1): TappedTopMode => ({
  name: drawn()[mode]!.name,
  frequencyHz: { value: share * drawn()[mode]!.frequencyHz, sigma },
});
/** Progress as told. */
const watched = () => {
  const told: number[] = [];
  return { told, onProgress: (share: number) => told.push(share) && undefined };
};
const ascends = (told: readonly number[]) => {
  expect(told.length).toBeGreaterThan(1);
  expect(told).toEqual(told.toSorted((a, b) => a - b));
  expect(told[0]).toBeGreaterThan(0);
  expect(told.at(-1)).toBeLessThanOrEqual(1);
};

describe('modes by name', () => {
  test('bear the frequency solved and the shape at a place: the lowest of a held board moves most in its middle', () => {
    expect(drawn()[0]!.name).toBe('monopole');
    expect(drawn().map(({ frequencyHz }) => frequencyHz)).toEqual(solved(top).map(({ frequencyHz }) => frequencyHz));
    const at = drawn()[0]!.deflectionAt!;
    expect(Math.abs(at([130, 100])!)).toBeGreaterThan(0.9);
    expect(Math.abs(at([2, 100])!)).toBeLessThan(0.1);
    expect(at([300, 100])).toBeUndefined();
  });

  test('are trusted by name; by frequency only where no name is known', () => {
    const by = (tapped: readonly TappedTopMode[]) =>
      trusted(drawn(), tapped).map(({ computed, measured, by: how }) => [computed, measured, how]);
    const unnamed = { ...tap(2), name: undefined };
    expect(by([unnamed, tap(1)])).toEqual([[1, 1, 'name']]);
    expect(by([unnamed])).toEqual([[2, 0, 'frequency']]);
    expect(by([])).toEqual([]);
  });
});

test('a free board’s modes bear the names of free boards, a held one’s those of held ones', () => {
  const { outline, thicknessMm, material } = top;
  const free: PlateCase = { outline, thicknessMm, material, edge: 'free' };
  const loose = preparePlate(free, 60);
  const answer = plateModes(loose, free, { count: 3 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  const names = namedModes(loose, answer.modes).map(({ name }) => name);
  // The lowest of a free board are its twist and its bends (any text on plates); nothing of it moves as one.
  expect(names[0]).toMatch(/twist/);
  expect(names).not.toContain('monopole');
});

test('a shaving of a top that cannot be solved is told so', () => {
  const before = plateModes(prepare(), top, { count: 3 });
  if (before.kind !== 'modes') throw new Error(before.kind);
  expect(forecastShaving(prepare(), noStiffness, before, [])).toEqual({ kind: 'unsolvable' });
});

test('a shaving of nothing moves none of many modes', () => {
  const before = plateModes(prepare(), top, { count: 16 });
  if (before.kind !== 'modes') throw new Error(before.kind);
  const answer = forecastShaving(prepare(), top, before, []);
  if (answer.kind !== 'forecast') throw new Error(answer.kind);
  expect(answer.moves).toHaveLength(before.modes.length);
  for (const { move, likeness } of answer.moves) {
    expect(move.value).toBeCloseTo(0, 6);
    expect(likeness).toBeCloseTo(1, 6);
  }
});

describe('advice', () => {
  const floors = [{ braceId: 'bar', heightMm: [[0, 8] as const, [200, 8] as const] }];
  const target = once(() => ({ name: 'monopole', frequencyHz: drawn()[0]!.frequencyHz - 3, toleranceHz: 1 }));
  const question = once(
    (): AdviceQuestion => ({
      plate: top,
      tappedPlate: top,
      tapped: [],
      parameters: density,
      targets: [target()],
      floors,
    }),
  );
  const ask = (more: Partial<AdviceQuestion>) => {
    const answer = topAdvice({ ...question(), ...more }, silent, prepare);
    if (answer.kind !== 'advice') throw new Error(JSON.stringify(answer));
    return answer;
  };

  test('without a tap starts from the drawing, as well as it is known, and tells how far it is', () => {
    const { told, onProgress } = watched();
    const answer = topAdvice(question(), onProgress, prepare);
    if (answer.kind !== 'advice') throw new Error(answer.kind);
    ascends(told);
    expect(answer.names).toEqual(drawn().map(({ name }) => name));
    const { moves, turnsTooFar, strung } = answer.alternatives[0]!;
    expect(answer.alternatives[0]!.reached).toEqual([true]);
    expect([turnsTooFar, strung, answer.strungNow]).toEqual([false, undefined, undefined]);
    expect(moves).toHaveLength(8);
    expect(moves[0]!.before.value).toBeCloseTo(drawn()[0]!.frequencyHz, 9);
    // The density moves the lowest mode by less than half its own tenth: the bar weighs too. Model: a hundredth.
    const share = moves[0]!.before.sigma / moves[0]!.before.value;
    expect(share).toBeGreaterThan(0.03);
    expect(share).toBeLessThan(Math.hypot(0.05, 0.01));
    expect(moves[0]!.after.value).toBeCloseTo(moves[0]!.before.value + moves[0]!.move.value, 9);
    expect(moves[0]!.after.sigma).toBeCloseTo(Math.hypot(moves[0]!.before.sigma, moves[0]!.move.sigma), 9);
  });

  test('a tapped mode stands where it was tapped, as sharp as it was heard', () => {
    const tapped = [tap(0, 0.98, 0.2), tap(1, 1.01, 0.3)];
    const targets = [{ ...target(), frequencyHz: tapped[0]!.frequencyHz.value - 3 }];
    const [first] = ask({ tapped, targets }).alternatives;
    [0, 1].forEach((mode) => {
      expect(first!.moves[mode]!.before.value).toBeCloseTo(tapped[mode]!.frequencyHz.value, 9);
      expect(first!.moves[mode]!.before.sigma).toBeCloseTo(tapped[mode]!.frequencyHz.sigma, 9);
    });
    expect(Math.abs(first!.moves[0]!.after.value - targets[0]!.frequencyHz)).toBeLessThan(1);
    expect(first!.reached).toEqual([true]);
  });

  test('cut since it was tapped, it stands lower by what the cut made, a share of that open', () => {
    const plate = cutPlate(top, [{ braceId: 'bar', fromMm: 0, toMm: 200, offMm: 1 }]);
    const [was, is] = [solved(top)[0]!.frequencyHz, solved(plate)[0]!.frequencyHz];
    const tapped = [tap(0, 1, 0.2)];
    const [first] = ask({ plate, tapped, targets: [{ ...target(), frequencyHz: is - 2 }] }).alternatives;
    const { before } = first!.moves[0]!;
    expect(before.value).toBeCloseTo(is, 3);
    expect(before.sigma).toBeCloseTo(Math.hypot(0.2, MOVE_ERROR_SHARE * (was - is)), 4);
  });

  test('what cannot be told is told by its reason', () => {
    const reason = (more: Partial<AdviceQuestion>) => topAdvice({ ...question(), ...more }, silent, prepare);
    expect(reason({ floors: [] })).toEqual({ kind: 'cannot', because: 'no-wood-to-spare' });
    expect(reason({ targets: [{ ...target(), frequencyHz: drawn()[0]!.frequencyHz + 0.9 }] }).kind).toBe(
      'nothing-to-do',
    );
    expect(reason({ tappedPlate: noStiffness })).toEqual({ kind: 'cannot', because: 'unsolvable' });
    expect(reason({ plate: noStiffness })).toEqual({ kind: 'cannot', because: 'unsolvable' });
  });

  test('a target is as near as the bench has it, whatever the drawing makes of the mode', () => {
    // Four fifths of what is drawn, and nothing of the woods left open that could explain it.
    const tapped = [tap(0, 0.8, 0.01)];
    const at = (offHz: number) =>
      topAdvice(
        {
          ...question(),
          tapped,
          parameters: [{ property: 'plate density', relativeSigma: 1e-7 }],
          targets: [{ name: 'monopole', frequencyHz: tapped[0]!.frequencyHz.value - offHz, toleranceHz: 1 }],
        },
        silent,
        prepare,
      ).kind;
    expect([at(0.9), at(-0.9)]).toEqual(['nothing-to-do', 'nothing-to-do']);
    expect(at(1.1)).not.toBe('nothing-to-do');
  });

  describe('under strings', () => {
    const load = {
      tensionN: 300,
      stringHeightMm: 12,
      saddle: [
        [110, 80],
        [110, 120],
      ],
    } as const;
    const stiffness: readonly Parameter[] = [{ property: 'brace eL', relativeSigma: 0.2 }];
    const strung = { plate: top, load, loadShare: 0.05, parameters: stiffness };
    const plain = once(() => strungAnswer(prepare(), strung)!);
    const turnsBy = (deg: number) => ({
      ...strung,
      load: { ...load, tensionN: (load.tensionN * deg) / Math.abs(plain().turnDeg.value) },
    });

    test('the bridge turns as that of the loaded top, and more with wood off its brace', () => {
      const { strungNow, alternatives } = ask({ strung });
      expect(strungNow!.turnDeg).toEqual(plain().turnDeg);
      expect(strungNow!.riseMm).toEqual(plain().riseMm);
      for (const { shavings, strung: after, turnsTooFar } of alternatives) {
        expect(turnsTooFar).toBe(false);
        const alone = strungAnswer(prepare(), { ...strung, plate: cutPlate(top, shavings) })!;
        expect(after!.turnDeg.value).toBeCloseTo(alone.turnDeg.value, 9);
        expect(Math.abs(after!.turnDeg.value)).toBeGreaterThan(Math.abs(plain().turnDeg.value));
      }
    });

    test('two degrees are the published limit', () => {
      const tooFar = (deg: number) => ask({ strung: turnsBy(deg) }).alternatives.map(({ turnsTooFar }) => turnsTooFar);
      // A shaving of a fifth of the bar turns it further, less than half as far again.
      expect(new Set(tooFar(1.3))).toEqual(new Set([false]));
      expect(new Set(tooFar(2))).toEqual(new Set([true]));
    });

    test('and is as narrow as the share that the fit leaves open of its factor', () => {
      // Taps of a stiffer bar, loosely heard, so that factor and spread are both far from one.
      const stiffer = solved(withFactors(top, stiffness, [1.5]));
      const tapped = [0, 1].map((mode) => ({
        name: drawn()[mode]!.name,
        frequencyHz: { value: stiffer[mode]!.frequencyHz, sigma: 2 },
      }));
      const plainStrung = { ...strung, loadShare: 0 };
      const measured = tapped.map(({ frequencyHz }, mode) => ({ mode, frequencyHz }));
      const fit = calibrate(prepare(), top, measured, stiffness);
      if (fit.kind !== 'calibrated') throw new Error(fit.kind);
      const [factor] = fit.factors;
      expect(factor!.value).toBeGreaterThan(1.15);
      // The second of two properties, the first of which is as good as known.
      const both: readonly Parameter[] = [{ property: 'plate density', relativeSigma: 1e-7 }, ...stiffness];
      const told = ask({ strung: { ...plainStrung, parameters: both }, tapped, parameters: both }).strungNow!.turnDeg;
      const turn = (by: number) =>
        strungAnswer(prepare(), { ...plainStrung, parameters: [], plate: withFactors(fit.plate, stiffness, [by]) })!
          .turnDeg.value;
      // The bar solved a sigma softer and a sigma stiffer; 2 % is the model's own.
      const share = factor!.sigma / factor!.value;
      const half = (turn(Math.exp(-share)) - turn(Math.exp(share))) / 2;
      expect(told.sigma / Math.hypot(0.02 * told.value, half)).toBeCloseTo(1, 1);
    });

    test('what the taps have narrowed is narrower here too, and the rest is as it was', () => {
      const tapped = [tap(0, 1, 0.01), tap(1, 1, 0.01)];
      const now = (parameters: readonly Parameter[]) => ask({ strung, tapped, parameters }).strungNow!.turnDeg;
      const share = ({ value, sigma }: { value: number; sigma: number }) => sigma / Math.abs(value);
      expect(share(now(stiffness))).toBeLessThan(share(plain().turnDeg));
      expect(share(now(density))).toBeCloseTo(share(plain().turnDeg), 2);
    });
  });
});

describe('ways, their odds and their first pass', () => {
  // The board with a bar that carries the strings, and another on the other side of its middle.
  const two: PlateCase = {
    ...top,
    braces: [
      { ...top.braces![0]!, from: [30, 80], to: [230, 80] },
      { ...top.braces![0]!, id: 'side', from: [30, 115], to: [230, 115] },
    ],
  };
  const on = once(() => preparePlate(two, 200));
  const nowHz = once(() => {
    const answer = plateModes(on(), two, { count: 8 });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    const at = namedModes(on(), answer.modes).findIndex(({ name }) => name === 'monopole');
    return answer.modes[at]!.frequencyHz;
  });
  const floor = (braceId: string, spareMm: number, carriesStrings = false) => ({
    ...{ braceId, carriesStrings },
    heightMm: [[0, 10 - spareMm] as const, [200, 10 - spareMm] as const],
  });
  const asked = (more: Partial<AdviceQuestion> & { readonly lowerHz: number }) => {
    const { lowerHz, ...rest } = more;
    const answer = topAdvice(
      {
        plate: two,
        tappedPlate: two,
        tapped: [{ name: 'monopole', frequencyHz: { value: nowHz(), sigma: 0.2 } }],
        parameters: [{ property: 'plate density', relativeSigma: 1e-4 }],
        targets: [{ name: 'monopole', frequencyHz: nowHz() - lowerHz, toleranceHz: 1.5 }],
        floors: [floor('bar', 2, true), floor('side', 2)],
        ...rest,
      },
      silent,
      on,
    );
    if (answer.kind !== 'advice') throw new Error(JSON.stringify(answer));
    return answer.alternatives;
  };
  const touches = (braceId: string) => (way: CheckedAdvice) => way.shavings.some((cut) => cut.braceId === braceId);

  test('what spares the brace that carries the strings comes first where it reaches', () => {
    const [first, ...others] = asked({ lowerHz: 3 });
    expect([first!.caution, first!.reached, touches('bar')(first!)]).toEqual(['none', [true], false]);
    for (const way of others) expect(way.caution).toBe(touches('bar')(way) ? 'others-reach' : 'none');
  });

  test('where nothing else reaches that brace is shaved, and it is said', () => {
    // A tenth of a millimetre off the other bar does not make five hertz.
    const ways = asked({ lowerHz: 5, floors: [floor('bar', 2, true), floor('side', 0.1)] });
    expect(ways[0]!.reached).toEqual([true]);
    expect(touches('bar')(ways[0]!)).toBe(true);
    expect(ways[0]!.caution).toBe('nothing-else-reaches');
  });

  test('of ways that reach as much and shave alike the lighter comes first, and none is beaten in everything', () => {
    const ways = asked({ lowerHz: 4, floors: [floor('bar', 2), floor('side', 2)] });
    expect(ways.length).toBeGreaterThan(1);
    ways.slice(1).forEach((way, i) => {
      const before = ways[i]!;
      const isAlike = before.shavesStructural === way.shavesStructural && before.reached[0] === way.reached[0];
      if (isAlike) expect(before.removedG).toBeLessThanOrEqual(way.removedG);
    });
    for (const way of ways)
      for (const other of ways) {
        if (other === way) continue;
        const isNoWorse =
          Number(other.reached[0]) >= Number(way.reached[0]) &&
          Number(other.shavesStructural) <= Number(way.shavesStructural) &&
          other.removedG <= way.removedG &&
          other.shavings.length <= way.shavings.length &&
          other.whole.chancePast <= way.whole.chancePast &&
          other.whole.chanceWithin >= way.whole.chanceWithin;
        expect(isNoWorse).toBe(false);
      }
  });

  test('the first pass is the way in proportion, within the limit, and a usual one on what carries the strings', () => {
    const floors = [floor('bar', 2, true)];
    const [way] = asked({ lowerHz: 8, floors });
    const deepest = Math.max(...way!.shavings.map(({ offMm }) => offMm));
    expect(deepest).toBeGreaterThan(0.8);
    if (way!.next.kind !== 'pass') throw new Error(way!.next.kind);
    const { pass, cuts } = way!.next;
    expect(pass.depthMm).toBeLessThanOrEqual(0.8);
    expect(Math.max(...cuts.map(({ offMm }) => offMm))).toBeCloseTo(pass.depthMm, 9);
    cuts.forEach(({ offMm, fromMm, toMm, braceId }) => {
      const whole = way!.shavings.find((cut) => cut.braceId === braceId && cut.fromMm === fromMm && cut.toMm === toMm)!;
      expect(Math.abs(offMm - (whole.offMm * pass.depthMm) / deepest)).toBeLessThanOrEqual(0.025 + 1e-9);
    });
    // The same bar free of strings may go deeper at once.
    const [free] = asked({ lowerHz: 8, floors: [floor('bar', 2)] });
    expect(free!.next.kind === 'pass' && free!.next.pass.depthMm).toBeGreaterThan(0.8);
  });

  test('where the pass leads is where the cut plate is solved to lie', () => {
    const [way] = asked({ lowerHz: 8 });
    if (way!.next.kind !== 'pass') throw new Error(way!.next.kind);
    const after = plateModes(on(), cutPlate(two, way!.next.cuts), { count: 8 });
    if (after.kind !== 'modes') throw new Error(after.kind);
    const at = namedModes(on(), after.modes).findIndex(({ name }) => name === 'monopole');
    const movedHz = after.modes[at]!.frequencyHz - nowHz();
    // The quadratic between a slope and the whole way is off by a cubic; lesser cuts are told in twentieths.
    expect(Math.abs(way!.next.pass.landsAt[0]!.value - nowHz() - movedHz)).toBeLessThan(0.05 * Math.abs(movedHz) + 0.1);
  });

  test('all of it lands where the way says, with the weather beside', () => {
    for (const { whole, moves } of asked({ lowerHz: 6 })) {
      const named = moves.find(({ before }) => Math.abs(before.value - nowHz()) < 1e-9)!;
      expect(whole.landsAt[0]!.value).toBeCloseTo(named.after.value, 6);
      // The air adds its own, and the blade works at the slope that is there by then.
      const withAir = Math.hypot(named.after.sigma, weatherSpreadHz(nowHz()));
      expect(whole.landsAt[0]!.sigma).toBeLessThan(1.15 * withAir);
      expect(whole.landsAt[0]!.sigma).toBeGreaterThan(0.95 * withAir);
    }
  });

  test('a top that moved by more than was foreseen gets a shallower pass', () => {
    const depthAfter = (measuredHz: number) => {
      const past = [-6, -5].map((forecastHz, i) => ({
        ...{ name: 'monopole', forecast: { value: forecastHz, sigma: 0.7 }, endsNow: i === 1 },
        measured: { value: (forecastHz * measuredHz) / -5, sigma: 0.3 },
      }));
      const [way] = asked({ lowerHz: 8, floors: [floor('side', 2)], past });
      return way!.next.kind === 'pass' ? way!.next.pass.depthMm : 0;
    };
    expect(depthAfter(-8)).toBeLessThan(depthAfter(-5));
  });

  test('the maker’s own limit and blade are heeded', () => {
    const depth = (more: Partial<AdviceQuestion>) => {
      const [way] = asked({ lowerHz: 5, floors: [floor('side', 2)], ...more });
      return way!.next.kind === 'pass' ? way!.next.pass.depthMm : 0;
    };
    expect(depth({ chancePast: 0.0005 })).toBeLessThan(depth({}));
    expect(depth({ bladeMm: 0.3 })).toBeLessThan(depth({}));
  });

  test('where every target is reached the odds of stopping are told', () => {
    const target = { name: 'monopole', frequencyHz: nowHz() - 1.3, toleranceHz: 1.5 };
    const answer = topAdvice(
      {
        ...{ plate: two, tappedPlate: two, parameters: [], targets: [target], floors: [floor('side', 2)] },
        tapped: [{ name: 'monopole', frequencyHz: { value: nowHz(), sigma: 0.2 } }],
      },
      silent,
      on,
    );
    if (answer.kind !== 'nothing-to-do') throw new Error(answer.kind);
    // 0.2 Hz inside the near edge with a sigma of 0.2: 0.8413 (any table of the normal distribution).
    expect(answer.odds.chanceWithin).toBeCloseTo(0.8413, 3);
  });
});

describe('agreement', () => {
  const step = (stepId: string, plate: PlateCase, modes: readonly TappedTopMode[]): MeasuredStep => ({
    stepId,
    plate,
    modes,
  });
  const agreed = (steps: readonly MeasuredStep[], parameters = density) => {
    const answer = topAgreement(steps, parameters, silent, prepare);
    if (answer.kind !== 'agreement') throw new Error(answer.kind);
    return answer;
  };
  const heard = (plate: PlateCase): readonly TappedTopMode[] =>
    solved(withFactors(plate, density, [1.1]))
      .slice(0, 3)
      .map(({ frequencyHz }, mode) => ({ name: drawn()[mode]!.name, frequencyHz: { value: frequencyHz, sigma: 0.1 } }));
  const shaved = once(() => cutPlate(top, [{ braceId: 'bar', fromMm: 0, toMm: 200, offMm: 1.5 }]));

  test('of one step is its fit alone: nothing is past, the latest is the first', () => {
    const { first, latest, past, spreadFactor, names, pairedBy } = agreed([step('a', top, heard(top))]);
    expect(latest).toEqual(first);
    expect([past, spreadFactor, pairedBy]).toEqual([[], 1, ['name']]);
    expect(names).toEqual(drawn().map(({ name }) => name));
    expect(first.fits.map(({ mode }) => mode)).toEqual([0, 1, 2]);
    expect(first.parameters).toEqual(density);
    expect(withFactors(top, density, [1.1]).material.densityKgM3).toBeCloseTo(1.1 * 410, 9);
    // The hundredth of model error leaves the prior of a tenth a say in it.
    expect(Math.abs(first.factors[0]!.value - 1.1)).toBeLessThan(first.factors[0]!.sigma);
  });

  test('over steps tells each move as tapped, and fits the woods anew to the last', () => {
    const { told, onProgress } = watched();
    const later = heard(shaved()).map((mode) => ({ ...mode, frequencyHz: { ...mode.frequencyHz, sigma: 0.2 } }));
    const steps = [step('a', top, heard(top)), step('b', shaved(), later)];
    const answer = topAgreement(steps, density, onProgress, prepare);
    if (answer.kind !== 'agreement') throw new Error(answer.kind);
    ascends(told);
    expect(told.at(-1)).toBe(1);
    // Looking back over the steps is told as it goes.
    expect(told.filter((share) => share > 0.35 && share < 1).length).toBeGreaterThan(0);
    expect(answer.past.map(({ stepId, mode }) => [stepId, mode])).toEqual([
      ['b', 0],
      ['b', 1],
      ['b', 2],
    ]);
    answer.past.forEach(({ mode, measured, forecast, agrees }) => {
      expect(measured.value).toBeCloseTo(later[mode]!.frequencyHz.value - heard(top)[mode]!.frequencyHz.value, 9);
      expect(measured.sigma).toBeCloseTo(Math.hypot(0.1, 0.2), 9);
      expect(Math.abs(forecast.value - measured.value)).toBeLessThan(2 * forecast.sigma);
      expect(agrees).toBe(true);
    });
    answer.latest.fits.forEach(({ mode, measured }) => {
      expect(measured).toEqual(later[mode]!.frequencyHz);
    });
    expect(Math.abs(answer.latest.factors[0]!.value - 1.1)).toBeLessThan(answer.latest.factors[0]!.sigma);
  });

  test('three steps are looked back at one after the other, and progress says so', () => {
    const { told, onProgress } = watched();
    const more = cutPlate(top, [{ braceId: 'bar', fromMm: 0, toMm: 200, offMm: 2 }]);
    const steps = [step('a', top, heard(top)), step('b', shaved(), heard(shaved())), step('c', more, heard(more))];
    const answer = topAgreement(steps, density, onProgress, prepare);
    expect(answer.kind === 'agreement' && answer.past.map(({ stepId }) => stepId)).toEqual([
      'b',
      'b',
      'b',
      'c',
      'c',
      'c',
    ]);
    ascends(told);
  });

  test('a mode that was not tapped at both steps has no past move', () => {
    const [lowest, second, third] = heard(shaved());
    const steps = [step('a', top, heard(top).slice(0, 2)), step('b', shaved(), [second!, third!])];
    expect(agreed(steps).past.map(({ mode }) => mode)).toEqual([1]);
    expect(lowest).toBeDefined();
  });

  test('where nothing is in common, or a top cannot be computed, it says so', () => {
    const asked = (steps: readonly MeasuredStep[]) => topAgreement(steps, density, silent, prepare);
    const nowhere = { name: undefined, frequencyHz: { value: 5000, sigma: 1 } };
    expect(asked([step('a', top, [nowhere])])).toEqual({ kind: 'nothing-in-common' });
    expect(asked([step('a', top, [])])).toEqual({ kind: 'nothing-in-common' });
    expect(asked([step('a', noStiffness, heard(top))])).toEqual({ kind: 'unsolvable' });
    expect(() => asked([])).toThrow('topAgreement: no steps, need at least one');
  });

  test('a later step that cannot be computed leaves the first fit, of which nothing is open any more', () => {
    const { first, latest, past } = agreed([step('a', top, heard(top)), step('b', noStiffness, heard(top))]);
    expect(past).toEqual([]);
    expect(latest.factors).toEqual(first.factors.map(({ value }) => ({ value, sigma: 0 })));
  });
});

describe('what is drawn of a top', () => {
  // A hinged even board moves as sin by sin (any table of plates); on a mesh of 30 mm to a few hundredths.
  const { outline, thicknessMm, material, edge } = top;
  const even: PlateCase = { outline, thicknessMm, material, edge: edge! };
  const answered = once(() => {
    const { told, onProgress } = watched();
    const answer = topModes({ plate: even, parameters: density, spots: [[130, 100]] }, onProgress, (plate) =>
      preparePlate(plate, 30),
    );
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    return { told, modes: answer.modes };
  });
  const modeOf = (name: string) => answered().modes.find((mode) => mode.name === name)!;
  const waves = { monopole: [1, 1], 'cross dipole': [1, 2] } as const;
  const wave = (name: keyof typeof waves, x: number, y: number) =>
    Math.sin((waves[name][0] * Math.PI * x) / 260) * Math.sin((waves[name][1] * Math.PI * y) / 200);

  test('its progress is told, and how far a spot moves', () => {
    ascends(answered().told);
    expect(Math.abs(modeOf('monopole').atSpots[0]!)).toBeCloseTo(1, 1);
    expect(Math.abs(modeOf('cross dipole').atSpots[0]!)).toBeLessThan(0.05);
  });

  test.each(['monopole', 'cross dipole'] as const)(
    'the bands of the %s cover what a sine by a sine has there',
    (name) => {
      const steps = Array.from({ length: 200 }, (_, i) => (i + 0.5) / 200);
      const values = steps.flatMap((x) => steps.map((y) => wave(name, 260 * x, 200 * y)));
      const areas = modeOf(name).bands.map(
        ({ polygons }) => polygons.reduce((sum, polygon) => sum + Math.abs(signedArea(polygon)), 0) / 52_000,
      );
      // Strong and weak the one way, weak and strong the other.
      const between = (from: number, to: number) => values.filter((w) => w > from && w <= to).length / values.length;
      const expected = [between(-1, -0.6), between(-0.6, -0.2), between(0.2, 0.6), between(0.6, 1)];
      expected.forEach((share, band) => {
        expect(Math.abs(areas[band]! - share), `band ${band}`).toBeLessThan(0.04);
      });
    },
  );

  test('lines of equal deflection lie where a sine by a sine is so large, quarter by quarter, either way', () => {
    const { contours } = modeOf('cross dipole');
    expect(contours.map(({ level }) => level).toSorted((a, b) => a - b)).toEqual([
      -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75,
    ]);
    for (const { level, lines } of contours) {
      expect(lines.length).toBeGreaterThan(0);
      for (const [x, y] of lines.flat())
        expect(Math.abs(Math.abs(wave('cross dipole', x, y)) - Math.abs(level))).toBeLessThan(0.08);
    }
  });

  test('of a free board they bear the names of free boards', () => {
    const free = topModes(
      { plate: { outline, thicknessMm, material, edge: 'free' }, parameters: [] },
      silent,
      (plate) => preparePlate(plate, 60),
    );
    if (free.kind !== 'modes') throw new Error(free.kind);
    expect(free.modes[0]!.name).toMatch(/twist/);
    expect(free.modes.map(({ name }) => name)).not.toContain('monopole');
  });

  test('a board without stiffness has no modes', () => {
    expect(topModes({ plate: noStiffness, parameters: [] }, silent, prepare)).toEqual({ kind: 'unsolvable' });
  });

  test('shapes for other programs are those of the same modes, the largest one everywhere', () => {
    const { told, onProgress } = watched();
    const answer = topShapes(top, 2, onProgress);
    if (answer.kind !== 'shapes') throw new Error(answer.kind);
    ascends(told);
    expect(answer.modes.map(({ name }) => name)).toEqual(
      drawn()
        .slice(0, 2)
        .map(({ name }) => name),
    );
    for (const { z, frequencyHz } of answer.modes) {
      expect(z).toHaveLength(answer.xMm.length);
      expect(Math.max(...z)).toBe(1);
      expect(frequencyHz).toBeGreaterThan(0);
    }
    expect(answer.yMm).toHaveLength(answer.xMm.length);
    expect(topShapes(noStiffness, 2)).toEqual({ kind: 'unsolvable' });
  });
});
