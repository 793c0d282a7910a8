// From plan to plate and to constants: what is on the top in each support, and the handbook's proportions by their tables.
import { describe, expect, test } from 'vitest';
import { isPlateAlone, planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import {
  handbookWood,
  measuredOn,
  measuredPieces,
  planWoodOf,
  withMeasuredWood,
  woodConstants,
} from '../../src/record/plan-wood.ts';
import type { Piece, Plan, PlanWood } from '../../src/record/record.ts';
import { freshPiece, putPiece } from '../../src/record/wood-edit.ts';
import { atIso, recordOf, rectangular } from './small-record.ts';

const started = startPlan('right');
const plan: Plan = {
  ...started,
  outline: rectangular(400, 300),
  ...{ scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 3, setbackBassMm: 3, rimStiffnessN: { value: 17, sigma: 4 } },
  bridge: { ...started.bridge, alongMm: 30, acrossMm: 150, thicknessMm: 8 },
  bridgePlate: { ...started.bridgePlate, alongMm: 45, acrossMm: 140, thicknessMm: 2.5 },
};
const ids = (
  hold: Parameters<typeof planCase>[1]['hold'],
  bridge: Parameters<typeof planCase>[1]['bridge'],
  of = plan,
) => planCase(of, { hold, bridge }).patches!.map(({ id }) => id);

describe('the plate of a plan', () => {
  test('is the outline, hole, thickness and braces as drawn', () => {
    const plate = planCase(plan, { hold: 'at-node', bridge: 'off' });
    expect(plate.outline).toEqual([
      [0, -150],
      [400, -150],
      [400, 150],
      [0, 150],
    ]);
    expect(plate.soundhole).toEqual(plan.soundhole);
    expect(plate.thicknessMm).toBe(2.8);
    const { soundhole: _hole, ...closed } = plan;
    expect('soundhole' in planCase(closed, { hold: 'at-node', bridge: 'off' })).toBe(false);
    expect(plate.braces).toHaveLength(plan.braces.length);
    const [drawn] = plan.braces;
    expect(plate.braces![0]).toEqual({
      id: drawn!.id,
      from: [drawn!.from.xMm, drawn!.from.yMm],
      to: [drawn!.to.xMm, drawn!.to.yMm],
      widthMm: drawn!.widthMm,
      heightMm: drawn!.profile.map(({ atMm, heightMm }) => [atMm, heightMm]),
      material: woodConstants(plan.braceWood),
      crossSection: 'rounded',
      grainDeg: drawn!.grainDeg,
    });
  });

  test.each([
    ['at-node', 'free'],
    ['on-foam', 'free'],
    ['in-mould', { kind: 'hinged', rotationalStiffnessN: 17 }],
  ] as const)('%s its edge is %j', (hold, edge) => {
    expect(planCase(plan, { hold, bridge: 'off' }).edge).toEqual(edge);
  });

  test('has a bridge on it where there is one, and its bridge plate always', () => {
    expect(ids('at-node', 'off')).toEqual(['bridge-plate']);
    expect(ids('at-node', 'taped')).toEqual(['bridge-plate', 'bridge']);
    expect(ids('at-node', 'glued')).toEqual(['bridge-plate', 'bridge']);
  });

  test.each([
    ['no thickness', { thicknessMm: 0 }],
    ['no length', { alongMm: 0 }],
    ['no width', { acrossMm: -3 }],
  ])('a slab of %s is none', (_, none) => {
    expect(ids('at-node', 'glued', { ...plan, bridgePlate: { ...plan.bridgePlate, ...none } })).toEqual(['bridge']);
    expect(ids('at-node', 'glued', { ...plan, bridge: { ...plan.bridge, ...none } })).toEqual(['bridge-plate']);
  });

  test('both lie about the saddle, a third ahead of it, inside and outside, with their grain across', () => {
    const [inside, outside] = planCase(plan, { hold: 'at-node', bridge: 'glued' }).patches!;
    // The saddle stands at 400 - 320 - 3 = 77 mm.
    expect(inside).toMatchObject({
      thicknessMm: 2.5,
      grainDeg: 90,
      face: 'inside',
      material: woodConstants(plan.bridgePlate.wood),
    });
    expect(outside).toMatchObject({
      thicknessMm: 8,
      grainDeg: 90,
      face: 'outside',
      material: woodConstants(plan.bridge.wood),
    });
    const box = (polygon: readonly (readonly [number, number])[]) => {
      const [xs, ys] = [polygon.map(([x]) => x), polygon.map(([, y]) => y)];
      return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(
        (mm) => Math.round(mm * 1e6) / 1e6,
      );
    };
    expect(box(outside!.polygon)).toEqual([57, -75, 87, 75]);
    expect(box(inside!.polygon)).toEqual([47, -70, 92, 70]);
  });

  test('a bridge held by tape weighs as much and hardly stiffens: a fiftieth of every modulus', () => {
    const glued = planCase(plan, { hold: 'at-node', bridge: 'glued' }).patches!;
    const taped = planCase(plan, { hold: 'at-node', bridge: 'taped' }).patches!;
    expect(taped[0]).toEqual(glued[0]);
    const [limp, firm] = [taped[1]!.material, glued[1]!.material];
    for (const key of ['eL', 'eR', 'eT', 'gLR', 'gLT', 'gRT'] as const)
      expect(firm[key] / limp[key]).toBeCloseTo(50, 9);
    for (const key of ['densityKgM3', 'nuLR', 'nuLT', 'nuRT'] as const) expect(limp[key]).toBe(firm[key]);
  });

  test('can be computed alone unless it has the air of a box behind it', () => {
    const holds = ['at-node', 'on-foam', 'in-mould', 'box-open', 'box-hole-blocked', 'box-back-damped'] as const;
    expect(holds.filter((hold) => isPlateAlone({ hold, bridge: 'glued' }))).toEqual(['at-node', 'on-foam', 'in-mould']);
  });
});

const exact = (value: number) => ({ value, sigma: 0.1 * value });
const typed = (speciesId: string): PlanWood => ({
  ...{
    name: 'Mine',
    speciesId,
    eLongGpa: exact(12),
    eCrossGpa: exact(0.8),
    shearGpa: exact(0.7),
    densityKgM3: exact(400),
  },
});

describe('all nine constants', () => {
  test('of Sitka spruce: what was typed, and the rest in the proportions of FPL-GTR-282 Tables 5-1 and 5-2', () => {
    const { eL, eR, eT, gLR, gLT, gRT, nuLR, nuLT, nuRT, densityKgM3 } = woodConstants(typed('sitka-spruce'));
    expect([eL, eR, gLR, densityKgM3]).toEqual([12_000, 800, 700, 400]);
    // E_T : E_R = 0.043 : 0.078, G_LT : G_LR = 0.061 : 0.064, G_RT : E_L = 0.003.
    expect(eT).toBeCloseTo((800 * 43) / 78, 6);
    expect(gLT).toBeCloseTo((700 * 61) / 64, 6);
    expect(gRT).toBeCloseTo(36, 6);
    expect([nuLR, nuLT, nuRT]).toEqual([0.372, 0.467, 0.435]);
  });

  test('of a wood without ratios: those of its family, and of no wood of the list: those of a softwood', () => {
    const ratios = (speciesId: string) => {
      const { eT, gLT, gRT } = woodConstants(typed(speciesId));
      return [eT / 800, gLT / 700, gRT / 12_000].map((ratio) => Math.round(1e6 * ratio) / 1e6);
    };
    expect(ratios('white-spruce')).toEqual(ratios('sitka-spruce'));
    expect(ratios('driftwood')).toEqual(ratios('sitka-spruce'));
    expect(ratios('indian-rosewood')).toEqual(ratios('sugar-maple'));
    expect(ratios('sugar-maple')).not.toEqual(ratios('sitka-spruce'));
    // The table has no G_RT of maple: 0.02.
    expect(ratios('sugar-maple')[2]).toBe(0.02);
  });
});

describe('a wood of the handbook', () => {
  test('has its means and the spread of a single board, rounded as they are shown', () => {
    const sitka = handbookWood('sitka-spruce');
    // MOE 10.8 GPa and 0.40 (Table 5-3a); E_L a tenth more; E_R 0.078 and G_LR 0.064 of that; 12 % of water.
    expect(sitka).toMatchObject({ name: 'Sitka spruce', speciesId: 'sitka-spruce' });
    expect(sitka.eLongGpa.value).toBe(11.88);
    expect(sitka.eCrossGpa.value).toBe(0.927);
    expect(sitka.shearGpa.value).toBe(0.76);
    expect(sitka.densityKgM3).toEqual({ value: 448, sigma: 45 });
    // A single board: 22 % in modulus (Table 5-6).
    expect(sitka.eLongGpa.sigma).toBe(2.614);
    for (const { value, sigma } of [sitka.eCrossGpa, sitka.shearGpa]) expect(sigma / value).toBeGreaterThan(0.22);
  });

  test('unknown by name is a softwood under that id', () => {
    expect(handbookWood('driftwood')).toEqual({
      ...handbookWood('sitka-spruce'),
      name: 'Softwood',
      speciesId: 'driftwood',
    });
  });
});

describe('the wood of a measured piece', () => {
  const reading = { method: 'm', atIso, eLongGpa: exact(13), densityKgM3: exact(420) };
  const piece = (id: string, kind: Piece['kind'], more: Partial<Piece> = {}): Piece => ({
    ...freshPiece(id, kind, `Board ${id}`, 'engelmann-spruce'),
    ...more,
  });

  test('is what was read of it, and the handbook for the rest', () => {
    const read = piece('a', 'top', { reading });
    expect(measuredOn(read)).toEqual(['eLongGpa', 'densityKgM3']);
    expect(measuredOn(piece('a', 'top', { reading: { ...reading, gGpa: exact(1), eCrossGpa: exact(1) } }))).toEqual([
      'eLongGpa',
      'eCrossGpa',
      'shearGpa',
      'densityKgM3',
    ]);
    expect(measuredOn(piece('a', 'top'))).toEqual([]);
    expect(planWoodOf(read)).toEqual({
      ...handbookWood('engelmann-spruce'),
      name: 'Board a',
      pieceId: 'a',
      eLongGpa: exact(13),
      densityKgM3: exact(420),
    });
    // Shear has another name there.
    expect(planWoodOf(piece('a', 'top', { reading: { ...reading, gGpa: exact(0.9) } })).shearGpa).toEqual(exact(0.9));
  });

  test('of several the last one measured of its kind is taken', () => {
    const pieces = [
      piece('old', 'top', { reading }),
      piece('new', 'top', { reading }),
      piece('raw', 'top'),
      piece('bar', 'brace-stock', { reading }),
      piece('back', 'back', { reading }),
    ];
    const record = pieces.reduce(putPiece, recordOf('i', []));
    expect(measuredPieces(record, 'top').map(({ id }) => id)).toEqual(['new', 'old']);
    expect(measuredPieces(record, 'brace-stock').map(({ id }) => id)).toEqual(['bar']);
    const measured = withMeasuredWood(record, plan);
    expect([measured.wood.pieceId, measured.braceWood.pieceId]).toEqual(['new', 'bar']);
    expect({ ...measured, wood: plan.wood, braceWood: plan.braceWood }).toEqual(plan);
    // Without any the plan keeps its own.
    expect(withMeasuredWood(recordOf('i', []), plan)).toEqual(plan);
    expect(withMeasuredWood(putPiece(recordOf('i', []), pieces[3]!), plan).wood).toBe(plan.wood);
  });
});
