import { describe, expect, test } from 'vitest';
import { belowFloors } from '../../src/brace/floor.ts';
import { demoInstrument } from '../../src/demo/demo-record.ts';
import { demoSteps, demoTarget } from '../../src/demo/demo-steps.ts';
import { demoTopAt, demoTopHz, LEAST_HIT } from '../../src/demo/demo-truth.ts';
import { cutsMade } from '../../src/record/cuts.ts';

const mould = demoSteps.filter((step) => step.support.hold === 'in-mould');
const sound = (step: (typeof demoSteps)[number]) => step.rounds.find((round) => !round.setAside)!;

describe('the story of the demo', () => {
  test('has ten steps or more from the thicknessed plate through the braced one to several shavings', () => {
    expect(demoSteps.length).toBeGreaterThanOrEqual(10);
    expect(demoSteps[0]!.stage).toBe('thicknessed');
    expect(mould.filter((step) => step.cut !== undefined).length).toBeGreaterThanOrEqual(5);
  });

  test('weighs right: without a change of weather the plate loses what was shaved', () => {
    mould.slice(1).forEach((step, i) => {
      const before = mould[i]!;
      if (before.humidityPercent !== step.humidityPercent) return;
      const shaved = step.cut?.weighedG ?? 0;
      // Masses are told to 0.1 g.
      expect(Math.abs(before.massG - step.massG - shaved)).toBeLessThanOrEqual(0.1);
    });
  });

  test('ends inside its target, above its floor, after the humidity has changed once', () => {
    expect(Math.abs(sound(mould.at(-1)!).modes[0]!.frequencyHz - demoTarget.frequencyHz)).toBeLessThan(
      demoTarget.toleranceHz,
    );
    const humidities = mould.map((step) => step.humidityPercent);
    expect(humidities.filter((humidity, i) => i > 0 && Math.abs(humidity - humidities[i - 1]!) > 5)).toHaveLength(1);
    const made = cutsMade(demoInstrument(new Map())).flatMap(({ on }) => on);
    expect(made.length).toBeGreaterThan(4);
    for (const { brace, after } of made) expect(belowFloors(brace.floors, after)).toEqual([]);
  });

  test('rings as the hidden top does, which the plan does not know', () => {
    const states = mould.map(({ cut, done }) => ({ cut, hasRained: done.includes('rain') }));
    // The sounds were given out with an earlier state of the plate model, which read brace ends and mesh too stiff, and stay as they
    // are: a top is no plate model. They lie within its error, and move as it moves; written down to 0.1 Hz.
    const hidden = demoTopHz(states, 7);
    hidden.forEach((expected, i) => {
      const heard = sound(mould[i]!).modes.map(({ frequencyHz }) => frequencyHz);
      expected.forEach((hz, m) => {
        expect(Math.abs(heard[m]! / hz - 1)).toBeLessThan(0.01);
        if (i === 0) return;
        const moved = heard[m]! - sound(mould[i - 1]!).modes[m]!.frequencyHz;
        const wanted = hz - hidden[i - 1]![m]!;
        expect(Math.abs(moved - wanted)).toBeLessThan(0.3 + 0.05 * Math.abs(wanted));
      });
    });
  });

  test('rings at the spots of its first and last step as the shapes of the hidden top have it', () => {
    for (const step of [mould[0]!, mould.at(-1)!]) {
      expect(step.rounds.map(({ spot }) => spot)).toEqual(['bridge-centre', 'bridge-bass', 'upper-bout']);
      const moves = demoTopAt(
        step.rounds.map(({ spot }) => spot),
        7,
      ).map((row) => row.map((share) => Math.max(LEAST_HIT, Math.abs(share))));
      const [bridge, ...others] = step.rounds.map(({ modes }, r) => modes.map(({ level }, m) => level / moves[r]![m]!));
      for (const strengths of others) {
        const ratios = strengths.map((strength, m) => strength / bridge![m]!);
        // One tap is as strong for all modes; levels are written down to two figures, and shapes shift with the cuts and with the
        // state of the plate model that the sounds were given out with.
        expect(Math.max(...ratios) / Math.min(...ratios)).toBeLessThan(1.13);
      }
    }
  });

  test('no shaving raises the monopole', () => {
    const monopole = mould.map((step) => sound(step).modes[0]!.frequencyHz);
    expect(monopole).toEqual(monopole.toSorted((a, b) => b - a));
  });

  test('holds one bad round, which is set aside', () => {
    expect(demoSteps.flatMap((step) => step.rounds).filter((round) => round.setAside)).toHaveLength(1);
  });
});
