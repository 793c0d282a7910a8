// From the record to what the forecast is asked, without solving anything: which conditions, steps, spreads, floors, targets and pulls.
import { describe, expect, test } from 'vitest';
import { OWN_SET } from '../../src/compare/string-load.ts';
import {
  adviceFloors,
  adviceQuestion,
  bridgePull,
  fitParameters,
  measuredSteps,
  namedTargets,
  plateConditions,
  solvableCase,
  strungTop,
  topQuestion,
  usualConditions,
} from '../../src/forecast/plan-question.ts';
import { computedEstimates, frequencySigmas, withFactors } from '../../src/forecast/properties.ts';
import { agrees, cutPlate, spreadFactorOf } from '../../src/forecast/shaving.ts';
import { nameAfterStage, stagePlates } from '../../src/forecast/stage-question.ts';
import type { StageShapes } from '../../src/forecast/stage-shapes.ts';
import { tapPlaces } from '../../src/forecast/tap-places.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { woodConstants } from '../../src/record/plan-wood.ts';
import type { InstrumentRecord, Plan, Round, Step, Support } from '../../src/record/record.ts';
import { inMould, story } from '../compare/story.ts';
import { atIso, recordOf, stepOf } from '../record/small-record.ts';

const plan = startPlan('right');
const onFoam: Support = { hold: 'on-foam', bridge: 'off', strung: false };
const closedBox: Support = { hold: 'box-open', bridge: 'glued', strung: false };
const withPlan = (record: InstrumentRecord, of: Plan = plan): InstrumentRecord => ({ ...record, plan: of });

describe('the conditions a top was tapped under', () => {
  test('are those of the braced top alone, each once, the latest last', () => {
    const record = story([
      { modesHz: [180], stage: 'thicknessed', support: onFoam },
      { modesHz: [180], support: inMould },
      { modesHz: [170], support: onFoam },
      { modesHz: [175], support: inMould },
      { modesHz: [175], stage: 'on-rims', support: inMould },
      { modesHz: [110], stage: 'closed', support: closedBox },
    ]);
    expect(plateConditions(record)).toEqual([
      { stage: 'braced', support: onFoam },
      { stage: 'braced', support: inMould },
      { stage: 'on-rims', support: inMould },
    ]);
    expect(plateConditions(recordOf('i', []))).toEqual([]);
    expect(plateConditions(story([{ modesHz: [110], stage: 'on-rims', support: closedBox }]))).toEqual([]);
  });

  test('untold they are those of a braced top in its mould, the bridge taped on', () => {
    expect(usualConditions).toEqual({ stage: 'braced', support: { hold: 'in-mould', bridge: 'taped', strung: false } });
  });
});

describe('the steps that were measured', () => {
  const level = (value: number, levelDb: number) => ({
    frequencyHz: { value, sigma: 0.1 },
    q: { value: 40, sigma: 1 },
    levelDb,
    amplitudes: [],
    resolution: 'single' as const,
  });
  const round = (id: string, spot: string, modes: readonly ReturnType<typeof level>[], support = inMould): Round => ({
    ...{ id, atIso, support, spot, source: 't', state: 'closed', taps: [] },
    fit: { method: 'test', modes: [...modes], used: [], setAside: [], scatterKnown: true },
  });
  const step = (id: string, rounds: readonly Round[], more: Partial<Step> = {}) => stepOf(id, { rounds, ...more });
  const recordWith = (...steps: readonly Step[]): InstrumentRecord => ({
    ...withPlan(recordOf('i', [])),
    steps,
    pins: [{ id: 'p', stepId: 'a', mode: 'monopole', frequencyHz: 180 }],
  });
  const asked = (record: InstrumentRecord, of = plan) =>
    measuredSteps(record, of, { stage: 'braced', support: inMould });

  test('come in order with the maker’s names, on the plan as it then stood', () => {
    const [brace] = plan.braces;
    const cut = { id: 'c', brace: '', braceIds: [brace!.id], fromMm: 200, toMm: 300, offMm: 1 };
    const record = recordWith(
      step('a', [round('r1', 'bridge-centre', [level(180, -20), level(240, -30)])]),
      step('b', [round('r2', 'bridge-centre', [level(177, -20), level(238, -30)])], { cuts: [cut] }),
      step('c', [round('r3', 'bridge-centre', [level(300, -20)])], { stage: 'on-rims' }),
      step('d', [round('r4', 'bridge-centre', [level(175, -20)], onFoam)]),
      step('e', []),
    );
    const steps = asked(record);
    expect(steps.map(({ stepId }) => stepId)).toEqual(['a', 'b']);
    expect(steps.map(({ modes }) => modes.map(({ name, frequencyHz }) => [name, frequencyHz.value]))).toEqual([
      [
        ['monopole', 180],
        [undefined, 240],
      ],
      [
        ['monopole', 177],
        [undefined, 238],
      ],
    ]);
    expect(steps[0]!.plate).toEqual(solvableCase(plan, inMould));
    expect(steps[1]!.plate).not.toEqual(steps[0]!.plate);
    expect(steps[1]!.plate).toEqual(cutPlate(steps[0]!.plate, [{ ...cut, braceId: brace!.id }]));
    // A top that cannot be computed has none.
    expect(asked(record, { ...plan, thicknessMm: -1 })).toEqual([]);
  });

  test('each mode is heard at every spot that the drawing knows, the loudest where one was tapped twice', () => {
    const record = recordWith(
      step('a', [
        round('r1', 'bridge-centre', [level(180, -20), level(240, -30)]),
        round('r2', 'waist', [level(180.4, -26), level(240.3, -33)]),
        round('r3', 'waist', [level(180.2, -24), level(240.2, -35)]),
        round('r4', 'my own spot', [level(180, -5)]),
        round('r5', 'upper-bout', [level(241, -22), level(400, -40)]),
        round('r6', 'bridge-bass', [level(180, -10)], onFoam),
      ]),
    );
    const places = tapPlaces(plan, 'right');
    const [monopole] = asked(record)[0]!.modes;
    const heard = new Map(
      monopole!.heardAt!.map((one) => [
        [...places].find(([, at]) => at === one.at || `${at}` === `${one.at}`)![0],
        one,
      ]),
    );
    expect([...heard.keys()].toSorted()).toEqual(['bridge-centre', 'upper-bout', 'waist']);
    expect(heard.get('bridge-centre')!.levelDb).toBe(-20);
    expect(heard.get('waist')!.levelDb).toBe(-24);
    // Not heard there: at most as loud as the faintest that was.
    expect(heard.get('upper-bout')).toMatchObject({ levelDb: -40, isAtMost: true });
  });
});

test('a round that was not read, or heard nothing, says nothing of its spot', () => {
  const tapped = story([{ modesHz: [180, 240] }]);
  const [step] = tapped.steps;
  const [read] = step!.rounds;
  const { fit: _fit, ...unread } = read!;
  const deaf = { ...read!, id: 'deaf', spot: 'waist', fit: { ...read!.fit!, modes: [] } };
  const record = withPlan({
    ...tapped,
    steps: [{ ...step!, rounds: [read!, { ...unread, id: 'u', spot: 'upper-bout' }, deaf] }],
  });
  const [found] = measuredSteps(record, plan, { stage: 'braced', support: inMould });
  for (const { heardAt } of found!.modes)
    expect(heardAt!.map(({ at }) => at)).toEqual([tapPlaces(plan, 'right').get('bridge-centre')]);
});

describe('what may move in a fit', () => {
  test('is what the plan gives a spread, as a share of it', () => {
    const given: Plan = {
      ...plan,
      wood: {
        ...plan.wood,
        eLongGpa: { value: 10, sigma: 1 },
        eCrossGpa: { value: 0.8, sigma: 0.2 },
        shearGpa: { value: 0.5, sigma: 0.1 },
        densityKgM3: { value: 400, sigma: 20 },
      },
      braceWood: {
        ...plan.braceWood,
        eLongGpa: { value: 12, sigma: 3 },
        shearGpa: { value: 1, sigma: 0.3 },
        densityKgM3: { value: 500, sigma: 5 },
      },
      rimStiffnessN: { value: 20, sigma: 10 },
    };
    const all = [
      ['plate eL', 0.1],
      ['plate eR', 0.25],
      ['plate gLR', 0.2],
      ['plate density', 0.05],
      ['brace eL', 0.25],
      ['brace gLR', 0.3],
      ['brace density', 0.01],
      ['rim stiffness', 0.5],
    ];
    expect(fitParameters(given, inMould).map(({ property, relativeSigma }) => [property, relativeSigma])).toEqual(
      all.map(([name, share]) => [name, expect.closeTo(share as number, 12)]),
    );
    // A free plate has no rim; what is exact, or nought, stays.
    expect(fitParameters(given, onFoam).map(({ property }) => property)).toEqual(
      all.slice(0, -1).map(([name]) => name),
    );
    expect(fitParameters(given, { ...onFoam, hold: 'at-node' })).toHaveLength(7);
    const exact = {
      ...given,
      rimStiffnessN: { value: 0, sigma: 10 },
      wood: { ...given.wood, eLongGpa: { value: 10, sigma: 0 } },
    };
    expect(fitParameters(exact, inMould).map(({ property }) => property)).toEqual(
      all.slice(1, -1).map(([name]) => name),
    );
  });

  test('is a factor on that property and on nothing else', () => {
    const plate = solvableCase(plan, inMould)!;
    const moved = (property: Parameters<typeof withFactors>[1][number]['property']) =>
      withFactors(plate, [{ property, relativeSigma: 1 }], [2]);
    const wood = plate.material;
    expect(moved('plate eL').material).toEqual({ ...wood, eL: 2 * wood.eL });
    expect(moved('plate eR').material).toEqual({ ...wood, eR: 2 * wood.eR });
    expect(moved('plate gLR').material).toEqual({ ...wood, gLR: 2 * wood.gLR });
    expect(moved('plate density').material).toEqual({ ...wood, densityKgM3: 2 * wood.densityKgM3 });
    for (const property of ['plate eL', 'plate eR', 'plate gLR', 'plate density'] as const)
      expect({ ...moved(property), material: wood }).toEqual(plate);
    const braces = (of: PlateCase) => of.braces!.map(({ material }) => material);
    const stock = braces(plate)[0]!;
    expect(braces(moved('brace eL'))).toEqual(braces(plate).map(() => ({ ...stock, eL: 2 * stock.eL })));
    expect(braces(moved('brace gLR'))[0]).toEqual({ ...stock, gLR: 2 * stock.gLR, gLT: 2 * stock.gLT });
    expect(braces(moved('brace density'))[0]).toEqual({ ...stock, densityKgM3: 2 * stock.densityKgM3 });
    expect(moved('brace eL').material).toBe(wood);
    expect(moved('rim stiffness').edge).toMatchObject({ kind: 'hinged', rotationalStiffnessN: 40 });
    const free = solvableCase(plan, onFoam)!;
    expect(withFactors(free, [{ property: 'rim stiffness', relativeSigma: 1 }], [2])).toEqual(free);
    const { braces: _, ...bare } = plate;
    expect('braces' in withFactors(bare, [{ property: 'brace eL', relativeSigma: 1 }], [2])).toBe(false);
    // Several in turn.
    const both = [
      { property: 'plate eL', relativeSigma: 1 },
      { property: 'plate eR', relativeSigma: 1 },
    ] as const;
    expect(withFactors(plate, both, [2, 3]).material).toEqual({ ...wood, eL: 2 * wood.eL, eR: 3 * wood.eR });
  });
});

describe('what frequencies are worth', () => {
  test('is what is open of the properties by their slopes, their ties counted', () => {
    // sigma^2 = a^T C a by hand: 9 + 2 x 12 x 0.5 + 16 = 37.
    const covariance = [
      [1, 0.5],
      [0.5, 1],
    ];
    expect(
      frequencySigmas(
        [
          [3, 4],
          [3, -4],
          [0, 0],
        ],
        { covariance },
      ),
    ).toEqual([expect.closeTo(Math.sqrt(37), 12), expect.closeTo(Math.sqrt(13), 12), 0]);
    // Rounding may leave less than nothing.
    expect(
      frequencySigmas([[1, -1]], {
        covariance: [
          [1, 1.0001],
          [1.0001, 1],
        ],
      }),
    ).toEqual([0]);
  });

  test('with one per cent of the model’s own', () => {
    const modes = [{ frequencyHz: 200, solvedHz: 200, vector: new Float64Array() }];
    expect(computedEstimates(modes, [[3]], [[0.25]])).toEqual([{ value: 200, sigma: expect.closeTo(2.5, 12) }]);
    expect(computedEstimates(modes, [[3]], [[1]], 0)).toEqual([{ value: 200, sigma: expect.closeTo(3, 12) }]);
  });
});

describe('past forecasts', () => {
  const one = (forecast: number, measured: number, sigma = 1) => ({
    forecast: { value: forecast, sigma },
    measured: { value: measured, sigma: 0 },
  });

  test('agree within two sigma of the difference', () => {
    const told = { value: -3, sigma: 0.3 };
    expect(agrees(told, { value: -4, sigma: 0.4 })).toBe(true);
    expect(agrees(told, { value: -4.01, sigma: 0.4 })).toBe(false);
    expect(agrees(told, { value: -2, sigma: 0.4 })).toBe(true);
    expect(agrees(told, { value: -1.99, sigma: 0.4 })).toBe(false);
  });

  test('widen what is promised by their mean square, four counted as right beforehand', () => {
    expect(spreadFactorOf([])).toBe(1);
    // (4 + 16) / 5 and (4 + 16 + 0) / 6.
    expect(spreadFactorOf([one(-3, -7)])).toBeCloseTo(2, 12);
    expect(spreadFactorOf([one(-3, -7), one(-2, -2)])).toBeCloseTo(Math.sqrt(20 / 6), 12);
    // Never narrower than stated, and a step that forecast nothing says nothing.
    expect(spreadFactorOf([one(-3, -3), one(-2, -2)])).toBe(1);
    expect(spreadFactorOf([one(0, 9), one(-3, -7)])).toBeCloseTo(2, 12);
    expect(spreadFactorOf([one(-3, -7, 2)])).toBeCloseTo(Math.sqrt(8 / 5), 12);
  });
});

test('cuts of a plate are those of their braces, and leave at least a tenth of a millimetre', () => {
  const plate = solvableCase(plan, inMould)!;
  const [first, second] = plate.braces!;
  const cut = cutPlate(plate, [
    { braceId: first!.id, fromMm: 100, toMm: 200, offMm: 1 },
    { braceId: 'gone', fromMm: 0, toMm: 100, offMm: 1 },
    { braceId: first!.id, fromMm: 100, toMm: 200, offMm: 40 },
  ]);
  expect(Math.min(...cut.braces![0]!.heightMm.map(([, mm]) => mm))).toBe(0.1);
  expect(cut.braces![1]).toEqual(second);
  expect({ ...cut, braces: plate.braces }).toEqual(plate);
  const { braces: _, ...bare } = plate;
  expect(cutPlate(bare, []).braces).toEqual([]);
});

describe('bounds and aims', () => {
  test('only braces with a floor may be touched, and the floor is its line along them', () => {
    const floors = [{ fromMm: 50, toMm: 150, heightMm: 9 }];
    const braces = plan.braces.slice(0, 3).map((brace, i) => ({ ...brace, floors: i === 1 ? floors : [] }));
    const found = adviceFloors({ ...plan, braces });
    expect(found.map(({ braceId }) => braceId)).toEqual([braces[1]!.id]);
    const at = (mm: number) =>
      found[0]!.heightMm.find(([from], i) => from <= mm && (found[0]!.heightMm[i + 1]?.[0] ?? Infinity) > mm)![1];
    expect(at(100)).toBe(9);
    // Outside of its stretch the wood is not to be touched.
    expect(at(20)).toBeGreaterThan(100);
    expect(at(200)).toBeGreaterThan(100);
  });

  test('a floor says whether its brace carries the strings', () => {
    const floors = [{ fromMm: 50, toMm: 150, heightMm: 9 }];
    const braces = plan.braces.map((brace, i) => ({ ...brace, floors, structural: i === 2 }));
    const carrying = adviceFloors({ ...plan, braces }).filter(({ carriesStrings }) => carriesStrings);
    expect(carrying.map(({ braceId }) => braceId)).toEqual([braces[2]!.id]);
  });

  test('targets are those of the stage, by the names of their modes', () => {
    const target = (id: string, stage: 'braced' | 'closed', mode: string) => ({
      ...{ id, stage, mode, frequencyHz: 180, toleranceHz: 3, origin: '' },
    });
    const record = { ...recordOf('i', []), targets: [target('a', 'braced', 'monopole'), target('b', 'closed', 'top')] };
    expect(namedTargets(record, 'braced')).toEqual([{ name: 'monopole', frequencyHz: 180, toleranceHz: 3 }]);
    expect(namedTargets(record, 'closed').map(({ name }) => name)).toEqual(['top']);
  });
});

describe('what the advice is asked', () => {
  const record = withPlan(story([{ modesHz: [194, 301] }, { modesHz: [190, 300], massOffG: 1 }]));
  const pull = { tensionN: 700, stringHeightMm: 12, share: 0.05 };
  const asked = (past?: Parameters<typeof adviceQuestion>[4]) =>
    adviceQuestion(record, plan, usualConditions, pull, past);

  test('rests on the latest taps and the maker’s own blade', () => {
    const question = asked()!;
    expect(question.tapped.map(({ frequencyHz }) => frequencyHz.value)).toEqual([190, 300]);
    expect(question.bladeMm).toBeCloseTo(0.1, 12);
    expect([question.past, question.spreadFactor]).toEqual([undefined, undefined]);
    expect(adviceQuestion(recordOf('i', []), plan, usualConditions, pull)).toBeUndefined();
  });

  test('takes past moves by the names of their modes; those of the latest step end now', () => {
    const move = (stepId: string, mode: number) => ({
      ...{ stepId, mode, agrees: true },
      forecast: { value: -5, sigma: 0.5 },
      measured: { value: -4, sigma: 0.2 },
    });
    const past = { names: ['monopole', 'cross dipole'], past: [move('s0', 1), move('s1', 0)], spreadFactor: 1.3 };
    const question = asked(past)!;
    expect(question.spreadFactor).toBe(1.3);
    expect(question.past!.map(({ name, endsNow }) => [name, endsNow])).toEqual([
      ['cross dipole', false],
      ['monopole', true],
    ]);
  });
});

describe('the pull of the strings', () => {
  const record = withPlan(recordOf('i', []));
  const strings = {
    ...{
      setName: 'light 12-53',
      scaleMm: 640,
      tuning: 'standard',
      saddleHeightMm: 11,
      breakAngleDeg: 25,
      neckAngleDeg: 0.5,
    },
  };

  test('untold is that of a usual light set, with a tenth of doubt', () => {
    const pull = bridgePull(record, 440);
    // A light set at 25 inch pulls some 700 N (any maker's chart).
    expect(pull.tensionN).toBeGreaterThan(600);
    expect(pull.tensionN).toBeLessThan(800);
    expect(pull.share).toBe(0.1);
    expect(pull.stringHeightMm).toBe(12.5);
    expect('setName' in pull).toBe(false);
    // Tension goes with the square of pitch and of length.
    expect(bridgePull(record, 432).tensionN / pull.tensionN).toBeCloseTo((432 / 440) ** 2, 6);
    const long = bridgePull(withPlan(record, { ...plan, scaleMm: 660 }), 440);
    expect(long.tensionN / pull.tensionN).toBeCloseTo((660 / 640) ** 2, 6);
  });

  test('told is that of the set, with its own doubt and height', () => {
    const pull = bridgePull({ ...record, box: { strings } } as InstrumentRecord, 440);
    expect(pull).toMatchObject({ setName: 'light 12-53', stringHeightMm: 11 });
    expect(pull.tensionN).toBeCloseTo(bridgePull(record, 440).tensionN, 6);
    expect(pull.share).toBeLessThan(0.1);
    // A set of one's own without gauges is as if none was told.
    const unknown = bridgePull(
      { ...record, box: { strings: { ...strings, setName: OWN_SET } } } as InstrumentRecord,
      440,
    );
    expect(unknown).toEqual(bridgePull(record, 440));
  });

  test('strings that were told and strung are the ones, whatever is usual', () => {
    const own = {
      ...strings,
      setName: OWN_SET,
      ownSet: Array.from({ length: 6 }, () => ({ kind: 'weighed' as const, unitMassGPerM: 2 })),
    };
    const pull = bridgePull({ ...record, box: { strings: own } } as InstrumentRecord, 440);
    // T = mu (2 L f)^2 at E4 to E2.
    const hz = [329.628, 246.942, 195.998, 146.832, 110, 82.407];
    expect(pull.tensionN).toBeCloseTo(
      hz.reduce((sum, f) => sum + 0.002 * (2 * 0.64 * f) ** 2, 0),
      1,
    );
    expect(pull.setName).toBe(OWN_SET);
  });

  test('is asked of a top that carries it: its bridge glued, its rim held, its strings in its own hand', () => {
    const pull = { tensionN: 700, stringHeightMm: 12, share: 0.05 };
    const top = strungTop(record, plan, inMould, pull)!;
    expect(top.plate).toEqual(solvableCase(plan, { ...inMould, bridge: 'glued' }));
    expect(top).toMatchObject({ loadShare: 0.05, load: { tensionN: 700, stringHeightMm: 12 } });
    expect(top.parameters).toEqual(fitParameters(plan, inMould));
    const trebleY = (of: InstrumentRecord) => strungTop(of, plan, inMould, pull)!.load.saddle[0][1];
    expect(trebleY(record)).toBe(28);
    expect(trebleY({ ...record, hand: 'left' })).toBe(-28);
    expect(strungTop(record, plan, { ...inMould, bridge: 'off' }, pull)).toBeUndefined();
    for (const hold of ['on-foam', 'at-node'] as const)
      expect(strungTop(record, plan, { ...inMould, hold }, pull)).toBeUndefined();
    expect(strungTop(record, { ...plan, thicknessMm: -1 }, inMould, pull)).toBeUndefined();
  });
});

test('a top is asked about with its spots, or not at all where it cannot be computed', () => {
  const record = withPlan(recordOf('i', []));
  const question = topQuestion(record, plan, inMould)!;
  expect(question.plate).toEqual(solvableCase(plan, inMould));
  expect(question.parameters).toEqual(fitParameters(plan, inMould));
  expect(question.spots).toEqual([...tapPlaces(plan, 'right').values()]);
  expect(topQuestion(record, { ...plan, thicknessMm: 0 }, inMould)).toBeUndefined();
});

describe('where the spots lie', () => {
  const body = {
    lengthMm: 500,
    lowerAtMm: 140,
    lowerMm: 400,
    waistAtMm: 300,
    waistMm: 250,
    upperAtMm: 410,
    upperMm: 300,
  };
  const drawn: Plan = {
    ...plan,
    outline: { kind: 'body', ...body },
    ...{ scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 2, setbackBassMm: 4 },
    bridge: { ...plan.bridge, alongMm: 30, acrossMm: 160 },
  };
  const at = (hand: 'right' | 'left' = 'right') => tapPlaces(drawn, hand);

  test('by the bridge: on the saddle, near its ends on the side of the hand, and behind it', () => {
    // The saddle at 500 - 320 - 3 = 177; 90 % of half of 160 is 72; two thirds of 30 lie behind it, and 25 mm more.
    expect(at().get('bridge-centre')).toEqual([expect.closeTo(177, 6), 0]);
    expect(at().get('bridge-bass')).toEqual([expect.closeTo(177, 6), -72]);
    expect(at().get('bridge-treble')).toEqual([expect.closeTo(177, 6), 72]);
    expect(at('left').get('bridge-bass')).toEqual([expect.closeTo(177, 6), 72]);
    expect(at('left').get('bridge-treble')).toEqual([expect.closeTo(177, 6), -72]);
    expect(at().get('behind-bridge')).toEqual([expect.closeTo(132, 6), 0]);
  });

  test.each([
    ['lower-bout-centre', 140],
    ['waist', 300],
    ['upper-bout', 410],
  ])('%s where the body was measured, to a sixtieth of its length', (spot, mm) => {
    expect(Math.abs(at().get(spot)![0] - mm)).toBeLessThanOrEqual(500 / 60);
    expect(at().get(spot)![1]).toBe(0);
  });

  test('nowhere on a top that is not there', () => {
    expect(tapPlaces({ ...plan, outline: { kind: 'points', source: '', points: [] } }, 'right').size).toBe(0);
  });
});

describe('a top before and after a stage', () => {
  const plates = (
    record: InstrumentRecord,
    from: Parameters<typeof stagePlates>[1],
    to: Parameters<typeof stagePlates>[2],
  ) => stagePlates(record, from, to);
  const record = withPlan(story([{ modesHz: [180], support: onFoam }]));

  test('is the bare plate, the braced one as it was held last, and the one glued all round', () => {
    const carried = plates(record, 'thicknessed', 'braced')!;
    expect(carried.before).toMatchObject({ braces: [], patches: [], edge: 'free' });
    expect(carried.before.material).toEqual(woodConstants(plan.wood));
    expect(carried.after).toEqual(planCase(plan, onFoam));
    expect(plates(record, 'braced', 'on-rims')!.after).toEqual(planCase(plan, usualConditions.support));
    expect(plates(record, 'braced', 'closed')!.after).toEqual(planCase(plan, { hold: 'in-mould', bridge: 'glued' }));
    expect(plates(record, 'braced', 'strung')!.after).toEqual(planCase(plan, { hold: 'in-mould', bridge: 'glued' }));
    expect(carried.parameters).toEqual(fitParameters(plan, usualConditions.support));
  });

  test('is as it was held by the last round of its stage that was no box', () => {
    const twice = withPlan(
      story([
        { modesHz: [180], support: onFoam },
        { modesHz: [180], support: inMould },
        { modesHz: [100], stage: 'on-rims', support: closedBox },
      ]),
    );
    expect(plates(twice, 'braced', 'on-rims')).toMatchObject({
      before: planCase(plan, inMould),
      after: planCase(plan, usualConditions.support),
    });
  });

  test.each([
    ['without a plan', story([{ modesHz: [180] }]), 'braced', 'closed'],
    ['from a box', record, 'closed', 'strung'],
    ['from a strung one', record, 'strung', 'strung'],
    ['from boards that are not joined', record, 'board', 'braced'],
    ['to boards', record, 'braced', 'joined'],
    [
      'of a plate that cannot be computed',
      withPlan(story([{ modesHz: [180] }]), { ...plan, thicknessMm: -1 }),
      'braced',
      'closed',
    ],
  ] as const)('is none %s', (_, of, from, to) => {
    expect(plates(of, from, to)).toBeUndefined();
  });

  test('a mode is called after it by its shape, the one that pumps the air “top” in the box', () => {
    const hz = { value: 180, sigma: 1 };
    const named = (name: string) => ({ name, frequencyHz: hz });
    const mode = (name: string, after: string, verdict: 'clear' | 'ask' = 'clear') => ({
      ...named(name),
      ...{ after: named(after), likeness: 0.9, verdict },
    });
    const shapes = (share: number): StageShapes => ({
      kind: 'carried',
      modes: [mode('monopole', 'monopole'), mode('cross dipole', 'long dipole'), mode('twist', 'twist', 'ask')],
      orderChanges: false,
      pumping: { ...named('monopole'), share },
      after: [],
      fittedTo: 0,
    });
    expect(nameAfterStage(shapes(0.8), 'monopole', 'closed')).toBe('top');
    expect(nameAfterStage(shapes(0.8), 'monopole', 'strung')).toBe('top');
    expect(nameAfterStage(shapes(0.8), 'monopole', 'on-rims')).toBe('monopole');
    expect(nameAfterStage(shapes(0.5), 'monopole', 'closed')).toBe('monopole');
    expect(nameAfterStage(shapes(0.8), 'cross dipole', 'closed')).toBe('long dipole');
    expect(nameAfterStage(shapes(0.8), 'twist', 'closed')).toBeUndefined();
    expect(nameAfterStage(shapes(0.8), 'unheard', 'closed')).toBeUndefined();
  });
});
