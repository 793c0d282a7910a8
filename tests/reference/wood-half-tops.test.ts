// Three real spruce half-tops, measured by others (source in the file): the peaks are named without help, and the plate
// read from three of them foretells the others.
import { expect, test } from 'vitest';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { assignPeaks } from '../../src/wood/peak-assignment.ts';
import { speciesById } from '../../src/wood/species.ts';
import reference from './wood-half-tops.json' with { type: 'json' };

const start = elasticStart(speciesById('sitka-spruce'));

type Name = keyof typeof reference.plates;

function readOnce(name: Name) {
  const plate = reference.plates[name];
  // ruler, caliper and scale as in a workshop; the source gives no spread for its own
  const board = {
    lengthMm: { value: plate.lengthMm, sigma: 0.5 },
    widthMm: { value: plate.widthMm, sigma: 0.5 },
    thicknessMm: { value: plate.thicknessMm, sigma: 0.05 },
    massG: { value: plate.massG, sigma: 0.2 },
  };
  const heard = plate.peaks.map(({ remeasuredHz, scatterHz, q }) => ({
    frequencyHz: { value: remeasuredHz, sigma: scatterHz },
    q: { value: q, sigma: 0.05 * q },
  }));
  const reading = assignPeaks(board, heard, start);
  if (reading.kind !== 'assigned') throw new Error(reading.because);
  return { reading, plate, names: reading.peaks.map(({ pattern }) => (pattern ? `${pattern.m},${pattern.n}` : '-')) };
}

const readings = new Map<Name, ReturnType<typeof readOnce>>();
/** The search takes half a second; each plate is searched once. */
function read(name: Name): ReturnType<typeof readOnce> {
  const known = readings.get(name) ?? readOnce(name);
  readings.set(name, known);
  return known;
}

// No published naming of these peaks exists: the naming is checked by what it foretells. 1.5 % in frequency is what
// wood that is not the same all over leaves (2 % in the stated moduli, which the source itself gives to 3-10 %).
test.each(['2L', '5R'] as const)('%s: every peak below 300 Hz is foretold within 1.5 %%, and the naming is sure', (name) => {
  const { reading, names } = read(name);
  expect(names.slice(0, 8)).toEqual(['1,1', '2,0', '2,1', '0,2', '1,2', '3,0', '3,1', '2,2']);
  for (const { frequencyHz, misfitPercent } of reading.peaks.filter((peak) => peak.frequencyHz.value < 300)) {
    expect(Math.abs(misfitPercent!), `${frequencyHz.value} Hz`).toBeLessThan(1.5);
  }
  expect(reading.lead).toBeGreaterThan(10);
});

test('1R: two cross-grain modes were never heard, the rest is foretold within 2.5 % and the tool is less sure', () => {
  const { reading, names } = read('1R');
  expect(names.slice(0, 6)).toEqual(['1,1', '2,0', '2,1', '3,0', '3,1', '2,2']);
  for (const peak of reading.peaks.filter(({ frequencyHz }) => frequencyHz.value < 300)) {
    expect(Math.abs(peak.misfitPercent!)).toBeLessThan(2.5);
  }
  expect(reading.unseen.map(({ pattern }) => `${pattern.m},${pattern.n}`)).toEqual(expect.arrayContaining(['0,2', '1,2']));
  expect(reading.lead).toBeLessThan(10);
});

test.each(['2L', '5R'] as const)('%s: E_L and G_LR agree with the stated values within their joint spread', (name) => {
  const { reading, plate } = read(name);
  const { eLong, g } = reading.fit.gradients;
  const relative = (gradient: typeof eLong) => Math.hypot(...Object.values(gradient).flat());
  for (const [value, gradient, stated] of [
    [reading.fit.elastic.eLongPa / 1e9, eLong, plate.stated.eLGpa],
    [reading.fit.elastic.gPa / 1e9, g, plate.stated.gLRGpa],
  ] as const) {
    const joint = Math.hypot(relative(gradient) * value, (stated.spreadPercent / 100) * stated.value);
    expect(Math.abs(value - stated.value) / joint).toBeLessThan(1.96);
  }
});
