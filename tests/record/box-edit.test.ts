import { describe, expect, test } from 'vitest';
import { labelPeak, unlabelRounds } from '../../src/record/box-edit.ts';
import { readRecord } from '../../src/record/read.ts';
import { boxRecord } from '../compare/box-story.ts';

const note = (id: string, frequencyHz: number, part: 'air' | 'top' | 'other') => ({
  id,
  roundId: 'r',
  frequencyHz,
  part,
});

describe('naming the peaks of a round', () => {
  test('a later word on the same peak, or on another peak for the same part, takes the place of the earlier', () => {
    const once = labelPeak(boxRecord([]), note('a', 112, 'air'), undefined);
    const again = labelPeak(labelPeak(once, note('b', 112, 'top'), undefined), note('c', 190, 'top'), undefined);
    expect(again.box?.peaks).toEqual([note('c', 190, 'top')]);
  });

  test('any number of peaks may be none of the three', () => {
    const both = labelPeak(
      labelPeak(boxRecord([]), note('a', 250, 'other'), undefined),
      note('b', 300, 'other'),
      undefined,
    );
    expect(both.box?.peaks).toHaveLength(2);
    expect(unlabelRounds(both, ['r']).box?.peaks).toEqual([]);
  });

  test('a name for the step comes with it where one is given', () => {
    const pin = { id: 'p', stepId: 's1', mode: 'air', frequencyHz: 112 };
    expect(labelPeak(boxRecord([]), note('a', 112, 'air'), pin).pins).toEqual([pin]);
  });

  test('the box part comes back from a file as it was, and a volume below zero is refused by its place', () => {
    const record = labelPeak(boxRecord(['open', 'mass']), note('a', 112, 'air'), undefined);
    expect(readRecord(JSON.parse(JSON.stringify(record)))).toEqual({ kind: 'record', record });
    const spoilt = { ...record, box: { ...record.box, cavity: { ...record.box!.cavity, volumeL: -3 } } };
    expect(readRecord(spoilt)).toMatchObject({ kind: 'refused', because: 'damaged', where: 'box.cavity.volumeL' });
  });
});
