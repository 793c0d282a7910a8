// The species list against the printed rows. Each figure of the list says itself whether its row was seen.
import { expect, test } from 'vitest';
import { densityKgM3, E_LONG_OVER_MOE, elasticStart } from '../../src/wood/elastic-start.ts';
import { SPECIES, speciesById } from '../../src/wood/species.ts';
import { checksById } from './published-check.ts';
import rows from './wood-species.json' with { type: 'json' };

const check = checksById(rows);

test.each([
  ['Sitka-spruce', 'sitka-spruce'],
  ['Engelmann-spruce', 'engelmann-spruce'],
  ['white-spruce', 'white-spruce'],
  ['red-spruce', 'red-spruce'],
  ['western-redcedar', 'western-redcedar'],
  ['redwood-old-growth', 'redwood'],
  ['sugar-maple', 'sugar-maple'],
  ['red-maple', 'red-maple'],
  ['bigleaf-maple', 'bigleaf-maple'],
  ['black-walnut', 'black-walnut'],
  ['black-cherry', 'black-cherry'],
])('Table 5-3a: %s', (row, id) => {
  const { expected, input } = check(`wood-moe-${row}`);
  const species = speciesById(id)!;
  expect(species.moe12Gpa).toEqual({ value: expected, verified: true });
  expect(species.gravity12).toEqual({ value: input('SG_12'), verified: true });
});

const ratioOf = (id: string, key: string) => {
  const { ratios, poisson } = speciesById(id)!;
  const of: Record<string, { value: number; verified: boolean } | undefined> = {
    'E_T-E_L': ratios!.eT,
    'E_R-E_L': ratios!.eR,
    'G_LR-E_L': ratios!.gLR,
    'G_LT-E_L': ratios!.gLT,
    'G_RT-E_L': ratios!.gRT,
    nu_LR: poisson!.lr,
    nu_LT: poisson!.lt,
    nu_RT: poisson!.rt,
  };
  return of[key];
};

test.each([
  ['sitka', 'sitka-spruce', ['E_T-E_L', 'E_R-E_L', 'G_LR-E_L', 'G_LT-E_L', 'G_RT-E_L', 'nu_LR', 'nu_LT', 'nu_RT']],
  ['sugarmaple', 'sugar-maple', ['E_T-E_L', 'E_R-E_L', 'G_LR-E_L', 'G_LT-E_L', 'nu_LR']],
  ['engelmann', 'engelmann-spruce', ['E_T-E_L', 'E_R-E_L', 'G_LR-E_L', 'G_LT-E_L', 'G_RT-E_L', 'nu_LR']],
] as const)('Tables 5-1 and 5-2: %s', (row, id, keys) => {
  for (const key of keys) {
    const { expected, verified } = check(`wood-${row}-${key}`);
    expect(ratioOf(id, key), key).toEqual({ value: expected, verified });
  }
});

test('density at 12 % moisture is 1120 times the specific gravity', () => {
  for (const id of ['wood-rho-Sitka-spruce', 'wood-rho-sugar-maple', 'wood-rho-anchor']) {
    const { expected, input } = check(id);
    expect(densityKgM3(input('G12'), 12) / expected).toBeCloseTo(1, 9);
  }
});

test('a board starts from 1.10 times the bending modulus, with the spread of a single board', () => {
  const start = elasticStart(speciesById('sitka-spruce'));
  expect(start.eLongPa.value).toBeCloseTo(1.1 * 10.8e9, 0);
  expect(E_LONG_OVER_MOE).toBe(1.1);
  expect(start.eCrossPa.value).toBeCloseTo(0.078 * 1.1 * 10.8e9, 0);
  expect(start.eLongPa.sigma / start.eLongPa.value).toBeGreaterThan(0.15);
  expect(start.assumed).toEqual([]);
});

test('a wood without its own ratios says whose it took', () => {
  expect(elasticStart(speciesById('white-spruce')).assumed).toEqual(['ratios']);
  expect(elasticStart(undefined).assumed).toEqual(['gravity', 'modulus', 'ratios']);
  expect(elasticStart(speciesById('indian-rosewood')).assumed).toEqual(['gravity', 'ratios']);
});

test('every species has its own id, and figures wood can have', () => {
  expect(new Set(SPECIES.map(({ id }) => id)).size).toBe(SPECIES.length);
  for (const { id, gravity12, shrinkage } of SPECIES) {
    if (gravity12) expect(gravity12.value, id).toBeGreaterThan(0.25);
    if (shrinkage) expect(shrinkage.radialPercent.value, id).toBeLessThan(shrinkage.tangentialPercent.value);
  }
});
