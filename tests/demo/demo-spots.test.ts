// The demo's spots do what they are there for.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { signatures } from '../../src/compare/signature.ts';
import { demoInstrument, type HeardRounds } from '../../src/demo/demo-record.ts';
import { pairMeasured } from '../../src/forecast/measured-match.ts';
import { computedModes, measuredSteps, plateConditions, topQuestion } from '../../src/forecast/plan-question.ts';
import { topModes } from '../../src/forecast/top-modes.ts';
import { planNow } from '../../src/record/cuts.ts';

const file = path.resolve(import.meta.dirname, '../../reference-audio/demo/heard.json');
const heard: HeardRounds = new Map(Object.entries(JSON.parse(readFileSync(file, 'utf8'))));

test('without the maker’s names, three spots tell every mode of the last step, and those named as the maker did', () => {
  const record = demoInstrument(heard);
  const conditions = plateConditions(record).at(-1)!;
  const question = topQuestion(record, planNow(record, record.plan!), conditions.support)!;
  const answer = topModes(question);
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  const computed = computedModes(answer, question);
  const tapped = measuredSteps(record, record.plan!, conditions).at(-1)!.modes;
  const pairs = pairMeasured(
    computed,
    tapped.map((mode) => ({ ...mode, name: undefined, frequencyHz: mode.frequencyHz.value })),
  );
  expect(pairs.map(({ by }) => by)).toEqual(new Array(7).fill('spots'));
  const named = pairs.flatMap(({ computed: c, measured }) => {
    const { name } = tapped[measured]!;
    return name === undefined ? [] : [[name, computed[c]!.name]];
  });
  expect(named).toHaveLength(3);
  for (const [own, told] of named) expect(told).toBe(own);
});

test('tapped at three spots the rounds of a step are told as one piece held alike', () => {
  const told = demoInstrument(heard).steps.flatMap((step) => signatures(step));
  expect(told.length).toBeGreaterThan(5);
  expect(told.filter(({ disagreement }) => disagreement !== undefined)).toEqual([]);
});
