import { expect, test } from 'vitest';
import {
  atOtherMoisture,
  matchedThickness,
  type OldReading,
  replacementAims,
  type TopWood,
  topRatios,
  translatedMode,
  translatedStiffness,
  USUAL_SHARING,
} from '../../src/box/replacement.ts';
import { type Estimate, estimate } from '../../src/quantity/estimate.ts';
import { densityAtMoisture } from '../../src/wood/moisture.ts';

const wood = (density: number, eLong: number, eCross: number, relative = 0): TopWood => ({
  densityKgM3: estimate(density, relative * density),
  eLongGpa: estimate(eLong, relative * eLong),
  eCrossGpa: estimate(eCross, relative * eCross),
});
const old = wood(432, 10.4, 0.75);
const fresh = wood(398, 12.1, 0.75);
const three10 = estimate(3.1, 0);

test('the invented re-top: equal stiffness along at 2.95 mm, 12 % lighter', () => {
  const thickness = matchedThickness(old, three10, fresh, 'along');
  expect(thickness.value).toBeCloseTo(2.95, 2); // worked by hand: 3.10 (10.4 / 12.1)^(1/3)
  const { along, arealMass } = topRatios(old, three10, fresh, thickness);
  expect(along.value).toBeCloseTo(1, 9);
  expect(arealMass.value).toBeCloseTo(0.88, 2);
});

test('published: equal bending stiffness goes with the cube root of E', () => {
  // published-checks thick-equal-EI: (10.8 / 7.7)^(1/3) = 1.11938034 (computed, not verified by another)
  const ratio = matchedThickness(wood(448, 10.8, 0.8), estimate(1, 0), wood(358.4, 7.7, 0.8), 'along');
  expect(ratio.value).toBeCloseTo(1.11938034, 8);
});

test('matching by mass leaves a stiffness error and by both splits it evenly', () => {
  const byMass = matchedThickness(old, three10, fresh, 'mass');
  expect(topRatios(old, three10, fresh, byMass).arealMass.value).toBeCloseTo(1, 9);
  const byBoth = matchedThickness(old, three10, fresh, 'both');
  const { along, across } = topRatios(old, three10, fresh, byBoth);
  expect(along.value * across.value).toBeCloseTo(1, 9);
});

test('uncertainty of the moduli enters by a third, of the thickness whole', () => {
  const thickness = matchedThickness(wood(432, 10.4, 0.75, 0.03), estimate(3.1, 0.031), wood(398, 12.1, 0.75), 'along');
  expect(thickness.sigma / thickness.value).toBeCloseTo(Math.hypot(0.01, 0.01), 4);
});

test('moisture there and back is no change, and drier wood is stiffer and lighter', () => {
  const drier = atOtherMoisture(old, -3);
  expect(drier.eLongGpa.value).toBeGreaterThan(old.eLongGpa.value);
  expect(drier.densityKgM3.value).toBeLessThan(old.densityKgM3.value);
  expect(atOtherMoisture(drier, 3).eLongGpa.value).toBeCloseTo(10.4, 12);
});

test('the law of moisture is that of every board, its own spread added', () => {
  const wetter = atOtherMoisture(wood(432, 10.4, 0.75, 0.03), 2);
  // -1.5 ± 0.4 % along and -2.5 ± 1 % across for each per cent of water
  expect(wetter.eLongGpa.value / 10.4).toBeCloseTo(0.985 ** 2, 12);
  expect(wetter.eCrossGpa.value / 0.75).toBeCloseTo(0.975 ** 2, 12);
  expect(wetter.eLongGpa.sigma / wetter.eLongGpa.value).toBeCloseTo(Math.hypot(0.03, (2 * 0.004) / 0.985), 12);
  expect(wetter.densityKgM3.value).toBeCloseTo(densityAtMoisture(432, 8, 10), 9);
});

test('a bare plate’s modes follow f ~ h sqrt(E / rho)', () => {
  const ratios = topRatios(old, three10, fresh, estimate(3, 0));
  const exact = { ...USUAL_SHARING['bare plate, long'], alongShare: estimate(1, 0) };
  const law = 60 * (3 / 3.1) * Math.sqrt(12.1 / 398 / (10.4 / 432)); // free plate, any textbook
  expect(translatedMode(estimate(60, 0), ratios, exact).aimHz.value).toBeCloseTo(law, 9);
});

test('equal wood gives back the old frequency; what is not rebuilt alike is in the ± all the same', () => {
  const sheared = { ...old, gGpa: estimate(0.8, 0) };
  const same = topRatios(sheared, three10, sheared, three10);
  for (const sharing of Object.values(USUAL_SHARING)) {
    const { aimHz } = translatedMode(estimate(176, 0.5), same, sharing);
    expect(aimHz.value).toBeCloseTo(176, 9);
    expect(aimHz.sigma).toBeCloseTo(Math.hypot(0.5, 176 * sharing.rebuiltShare), 9);
  }
});

test('under a weight wood of twice the stiffness doubles its own share only, and half of f² is in no doubt of what is rebuilt', () => {
  const twice = { along: estimate(2, 0), across: estimate(2, 0), shear: estimate(2, 0), arealMass: estimate(1, 0) };
  const sharing = USUAL_SHARING['on the rims'];
  const { value, sigma } = translatedStiffness(twice, sharing);
  const braces = sharing.braceShare.value;
  expect(value).toBeCloseTo(2 * (1 - braces) + braces, 9);
  // the shares of bending and shear fall out; the brace share counts once, what is rebuilt otherwise as a square
  expect(sigma).toBeCloseTo(Math.hypot(sharing.braceShare.sigma, 2 * value * sharing.rebuiltShare), 9);
});

test('shear follows its own reading; where it was not read it goes with the moduli, in doubt', () => {
  const sheared = (wood: typeof old, gpa: number) => ({ ...wood, gGpa: estimate(gpa, 0) });
  const thickness = estimate(3, 0);
  const read = topRatios(sheared(old, 0.7), three10, sheared(fresh, 0.91), thickness);
  expect(read.shear.value).toBeCloseTo(1.3 * (3 / 3.1) ** 3, 9);
  const unread = topRatios(old, three10, sheared(fresh, 0.91), thickness);
  expect(unread.shear.value).toBeCloseTo(Math.sqrt(unread.along.value * unread.across.value), 9);
  expect(unread.shear.sigma / unread.shear.value).toBeGreaterThan(0.1);
});

test('the translated mode is that of two springs and two masses solved outright', () => {
  // plate spring 0.6 k (a quarter shear, the rest along and across alike), brace spring 0.4 k; plate mass 0.75 m, braces 0.25 m
  const ratios = {
    along: estimate(1.1, 0),
    across: estimate(0.9, 0),
    shear: estimate(1.2, 0),
    arealMass: estimate(0.88, 0),
  };
  const sharing = {
    alongShare: estimate(0.5, 0.2),
    shearShare: estimate(0.25, 0.1),
    braceShare: estimate(0.4, 0.1),
    plateMassShare: estimate(0.75, 0.07),
    rebuiltShare: 0.02,
  };
  const k = 0.6 * (0.375 * 1.1 + 0.375 * 0.9 + 0.25 * 1.2) + 0.4;
  const m = 0.75 * 0.88 + 0.25;
  const { aimHz, contributionsHz } = translatedMode(estimate(176, 0.5), ratios, sharing);
  expect(aimHz.value).toBeCloseTo(176 * Math.sqrt(k / m), 9);
  expect(contributionsHz.at(-1)).toBeCloseTo(0.02 * aimHz.value, 9);
  expect(Math.hypot(...contributionsHz)).toBeCloseTo(aimHz.sigma, 9);
});

const rimsReading = {
  part: 'top',
  stage: 'on the rims',
  mode: 'monopole',
  frequencyHz: estimate(180, 0.5),
  sameAirHz: estimate(176, 0.8),
  damage: [],
} as const satisfies OldReading;

function aimOf(reading: OldReading): Estimate {
  const [aim] = replacementAims([reading], topRatios(old, three10, fresh, estimate(3, 0)));
  if (aim?.kind !== 'aim') throw new Error(`${aim?.kind}`);
  return aim.aimHz;
}

test('damage widens an aim: what can only lower shifts it up as well, each named damage adds its own', () => {
  const sound = aimOf(rimsReading);
  const cracked = aimOf({ ...rimsReading, damage: ['cracked'] });
  const both = aimOf({ ...rimsReading, damage: ['cracked', 'loose-brace'] });
  const sunken = aimOf({ ...rimsReading, damage: ['sunken'] });
  expect(cracked.value).toBeGreaterThan(sound.value);
  expect(both.value).toBeGreaterThan(cracked.value);
  expect(cracked.sigma).toBeGreaterThan(sound.sigma);
  expect(both.sigma).toBeGreaterThan(cracked.sigma);
  expect(sunken.value).toBeCloseTo(sound.value, 9);
  expect(sunken.sigma).toBeGreaterThan(cracked.sigma);
});

test('a top nobody was asked about is not taken as sound', () => {
  expect(aimOf({ ...rimsReading, damage: 'unasked' }).sigma).toBeGreaterThan(aimOf(rimsReading).sigma);
});

test('what is aimed from is the reading in the air of the new wood', () => {
  const wetter = aimOf({ ...rimsReading, sameAirHz: estimate(165, 0.8) });
  expect(wetter.value / aimOf(rimsReading).value).toBeCloseTo(165 / 176, 9);
});

test('the back stays with the body, the air is the whole box’s', () => {
  const kinds = replacementAims(
    [
      { ...rimsReading, part: 'back', damage: ['cracked'] },
      { ...rimsReading, part: 'air' },
    ],
    topRatios(old, three10, fresh, estimate(3, 0)),
  ).map(({ kind }) => kind);
  expect(kinds).toEqual(['back-stays', 'of-the-box']);
});
