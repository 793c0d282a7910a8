import { describe, expect, test } from 'vitest';
import { reportFacts, ringS } from '../../src/compare/report.ts';
import type { Support } from '../../src/record/record.ts';
import { inMould, story } from './story.ts';

const boxOpen: Support = { hold: 'box-open', bridge: 'glued', strung: false };

describe('what a report says', () => {
  const record = story([
    { modesHz: [60, 95], stage: 'thicknessed', support: { hold: 'at-node', bridge: 'off', strung: false } },
    { modesHz: [190, 300], humidityPercent: 47 },
    { modesHz: [186, 296], humidityPercent: 44 },
    { modesHz: [184, 295], humidityPercent: 51 },
  ]);

  test('the final signature is that of the last measured step, whatever came after it unmeasured', () => {
    const [last] = record.steps.slice(-1);
    const later = { ...record, steps: [...record.steps, { ...last!, id: 'later', rounds: [] }] };
    expect(reportFacts(later).final?.step.id).toBe('s3');
  });

  test('of a closed box it is the one with the hole open and nothing fixed to it, in whatever order they were taken', () => {
    const lump = { ...boxOpen, addedMassG: 20 };
    for (const supports of [
      [lump, boxOpen, { ...boxOpen, hold: 'box-hole-blocked' } as const],
      [{ ...boxOpen, hold: 'box-hole-blocked' } as const, lump, boxOpen],
    ]) {
      const box = story(supports.map((support) => ({ modesHz: [100, 190], stage: 'closed', support })));
      const rounds = box.steps.flatMap((step) => step.rounds);
      const together = { ...box, steps: [{ ...box.steps[0]!, rounds }] };
      expect(reportFacts(together).final?.signature.support).toEqual(boxOpen);
      expect(reportFacts(together).earlier).toHaveLength(2);
    }
  });

  test('a course needs two steps that may be compared; the plate before is told apart', () => {
    const { courses, earlier } = reportFacts(record);
    expect(courses.map(({ conditions }) => conditions)).toEqual([{ stage: 'braced', support: inMould }]);
    expect(courses[0]?.tracks[0]?.points.map(({ step }) => step.id)).toEqual(['s1', 's2', 's3']);
    expect(earlier.map(({ step }) => step.id)).toEqual(['s0']);
  });

  test('the air is the range over the steps where it was noted', () => {
    expect(reportFacts(record).humidityPercent).toEqual({ least: 44, most: 51 });
    expect(reportFacts(story([{ modesHz: [190] }]))).toMatchObject({ humidityPercent: undefined, tempC: undefined });
  });

  test('the temperature likewise, and the weight is the last that was weighed, with its step', () => {
    const weighed = {
      ...record,
      steps: record.steps.map((step, i) => ({
        ...step,
        ...(i === 1 ? { massG: 196.2 } : i === 2 ? { massG: 194.1 } : {}),
        climate: i === 0 ? { tempC: 17 } : { humidityPercent: 45, tempC: 19 + i },
      })),
    };
    const facts = reportFacts(weighed);
    expect(facts.tempC).toEqual({ least: 17, most: 22 });
    expect(facts.lastMassG).toMatchObject({ massG: 194.1, step: { id: 's2' } });
    expect(reportFacts(record).lastMassG).toBeUndefined();
  });

  test('a step that was measured in two ways counts once for each', () => {
    const twice = story([{ modesHz: [190] }, { modesHz: [95], support: { ...inMould, hold: 'at-node' } }]);
    const rounds = twice.steps.flatMap((step) => step.rounds);
    expect(reportFacts({ ...twice, steps: [{ ...twice.steps[0]!, rounds }] }).courses).toEqual([]);
  });

  test('a record without rounds has nothing to say, and says so', () => {
    expect(reportFacts({ ...record, steps: [] })).toMatchObject({ final: undefined, earlier: [], courses: [] });
  });

  test('of two plain signatures of the last step the first taken; what came before is the last of each kind', () => {
    const free = { ...inMould, hold: 'at-node' as const };
    const told = story([
      { modesHz: [190] },
      { modesHz: [95], support: free },
      { modesHz: [186] },
      { modesHz: [92], support: free },
    ]);
    const [a, b, c, d] = told.steps;
    const both = { ...c!, rounds: [...c!.rounds, ...d!.rounds] };
    const { final, earlier, courses } = reportFacts({ ...told, steps: [a!, b!, both] });
    expect(final?.signature.support.hold).toBe('in-mould');
    expect(final?.step.id).toBe('s2');
    expect(earlier.map(({ step, signature }) => [step.id, signature.support.hold])).toEqual([['s2', 'at-node']]);
    expect(courses).toHaveLength(2);
  });

  test('an open box with a lump on its back is not the plain one', () => {
    const lump = { ...boxOpen, addedMassOnBackG: 20 };
    const box = story([lump, boxOpen].map((support) => ({ modesHz: [100, 190], stage: 'closed', support })));
    const rounds = box.steps.flatMap((step) => step.rounds);
    expect(reportFacts({ ...box, steps: [{ ...box.steps[0]!, rounds }] }).final?.signature.support).toEqual(boxOpen);
  });
});

test('the ring of a mode is the time in which exp(-pi f t / Q) falls to a thousandth', () => {
  const ring = ringS({ frequencyHz: { value: 200, sigma: 0 }, q: { value: 50, sigma: 5 } });
  expect(Math.exp((-Math.PI * 200 * ring.value) / 50)).toBeCloseTo(1e-3, 12);
  // 10 % of Q is 10 % of the ring.
  expect(ring.sigma / ring.value).toBeCloseTo(0.1, 12);
});

test('the ring is as sure as its Q and its frequency together', () => {
  const ring = ringS({ frequencyHz: { value: 100, sigma: 3 }, q: { value: 50, sigma: 2 } });
  // 60 dB is ln 1000 = 6.907755 times Q / (pi f); 4 % and 3 % at right angles are 5 %.
  expect(ring.value).toBeCloseTo((6.907755 * 50) / (Math.PI * 100), 6);
  expect(ring.sigma / ring.value).toBeCloseTo(0.05, 12);
});
