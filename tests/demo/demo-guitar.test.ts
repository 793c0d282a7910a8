// The demo's finished guitar rings as the three pistons of its truth; the piston formulas are held to published ones
// elsewhere.
import { describe, expect, test } from 'vitest';
import { airIn, STANDARD_PRESSURE_PA } from '../../src/box/air.ts';
import { type Box, boxModes, type Piston } from '../../src/box/pistons.ts';
import { soundhole } from '../../src/box/soundhole.ts';
import { stateOfRound } from '../../src/compare/box-state.ts';
import { demoBox, demoBoxRounds, demoGuitar, demoLumpG } from '../../src/demo/demo-guitar.ts';

const piston = ({ massG, alone, areaM2, q }: typeof demoBox.top | typeof demoBox.back, lumpG = 0): Piston => ({
  massKg: (massG + lumpG) / 1000,
  stiffnessNPerM: (massG / 1000) * (2 * Math.PI * alone) ** 2,
  areaM2,
  q,
});
const { humidityPercent, tempC } = demoBox;
const box: Box = {
  air: airIn({ tempC, humidityPercent, pressurePa: STANDARD_PRESSURE_PA }),
  volumeM3: demoBox.volumeL / 1000,
  hole: soundhole(demoBox.holeRadiusMm / 1000, demoBox.holeEdgeMm / 1000, 'flanged', demoBox.airQ),
  top: piston(demoBox.top),
  back: piston(demoBox.back),
};
const inState: Readonly<Record<string, Box>> = {
  'box-open': box,
  'box-blocked': { ...box, hole: 'blocked' },
  'box-back-damped': { ...box, back: 'held' },
  'box-lump': { ...box, top: piston(demoBox.top, demoLumpG) },
  'box-on-back': box,
};

describe('the finished guitar of the demo', () => {
  test.each(demoBoxRounds.map((round) => [round.file, round] as const))('%s rings as its pistons', (file, round) => {
    const expected = boxModes(inState[file]!).map(({ frequencyHz, q }) => [frequencyHz, q] as const);
    // the last mode of every round belongs to no piston
    const written = round.modes.slice(0, -1);
    expect(written).toHaveLength(expected.length);
    written.forEach(({ frequencyHz, q }, i) => {
      // written down to 0.01 Hz and 0.1
      expect(Math.abs(frequencyHz - expected[i]![0])).toBeLessThan(0.006);
      expect(Math.abs(q - expected[i]![1])).toBeLessThan(0.06);
    });
  });

  test('its rounds are taken for the states they were made in', () => {
    const guitar = demoGuitar((round, support, atIso) => ({
      id: round.file,
      atIso,
      support,
      spot: round.spot,
      source: 'test',
      state: 'closed',
      taps: [],
    }));
    const closed = guitar.steps.find(({ stage }) => stage === 'closed')!;
    expect(closed.rounds.map(stateOfRound)).toEqual(['open', 'blocked', 'back-damped', 'mass', 'tap-on-back']);
  });
});
