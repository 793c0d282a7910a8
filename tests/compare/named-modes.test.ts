// Every signature of a record with its names, in the order of the steps.
import { expect, test } from 'vitest';
import { namedSignatures } from '../../src/compare/named-modes.ts';
import { inMould, story } from './story.ts';

test('two ways of holding, by turns, come in the order of the steps, each with all of its modes ascending', () => {
  const free = { ...inMould, hold: 'at-node' as const };
  const record = story([
    { modesHz: [194, 90, 271] },
    { modesHz: [120, 80], support: free },
    { modesHz: [266, 189] },
    { modesHz: [79], support: free },
  ]);
  expect(
    namedSignatures(record).map(({ step, signature, modes }) => [
      step.id,
      signature.support.hold,
      modes.map(({ mode, name }) => [mode.frequencyHz.value, name]),
    ]),
  ).toEqual([
    [
      's0',
      'in-mould',
      [
        [90, undefined],
        [194, 'monopole'],
        [271, undefined],
      ],
    ],
    [
      's1',
      'at-node',
      [
        [80, undefined],
        [120, undefined],
      ],
    ],
    [
      's2',
      'in-mould',
      [
        [189, 'monopole'],
        [266, undefined],
      ],
    ],
    ['s3', 'at-node', [[79, undefined]]],
  ]);
});

test('a step without a mode has no signature', () => {
  expect(namedSignatures(story([{ modesHz: [194] }, { modesHz: [] }])).map(({ step }) => step.id)).toEqual(['s0']);
});
