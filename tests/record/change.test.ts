import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyChanges, changesBetween, inverse, sameValue } from '../../src/record/change.ts';

const leaf = fc.oneof(fc.integer(), fc.string(), fc.boolean(), fc.constant(null));
const key = fc.constantFrom('a', 'b', 'c');
const keyed = (inner: fc.Arbitrary<unknown>) =>
  fc.uniqueArray(fc.record({ id: fc.constantFrom('p', 'q', 'r', 's', 't'), value: inner }), {
    selector: (element) => element.id,
    maxLength: 5,
  });
const document = fc.dictionary(key, fc.oneof(leaf, fc.array(leaf), keyed(fc.oneof(leaf, keyed(leaf)))));

describe('changes between documents', () => {
  test('applying the changes between two documents gives the second one', () => {
    fc.assert(
      fc.property(document, document, (before, after) => {
        const result = applyChanges(before, changesBetween(before, after));
        expect(result).toEqual({ kind: 'changed', document: after });
      }),
    );
  });

  test('any sequence of edits, undone from the last to the first, returns the same document', () => {
    fc.assert(
      fc.property(document, fc.array(document, { maxLength: 6 }), (first, later) => {
        const states = [first, ...later];
        const steps = later.map((after, i) => changesBetween(states[i], after));
        let current: unknown = states.at(-1);
        for (const changes of steps.reverse()) {
          const back = applyChanges(current, inverse(changes));
          expect(back.kind).toBe('changed');
          if (back.kind === 'changed') current = back.document;
        }
        expect(sameValue(current, first)).toBe(true);
      }),
    );
  });

  test('edits of two tabs in different places both stay', () => {
    const start = { notes: '', steps: [{ id: 's1', heard: '' }] };
    const mine = changesBetween(start, { notes: 'dry day', steps: [{ id: 's1', heard: '' }] });
    const theirs = {
      notes: '',
      steps: [
        { id: 's1', heard: 'knocky' },
        { id: 's2', heard: '' },
      ],
    };
    expect(applyChanges(theirs, mine)).toEqual({
      kind: 'changed',
      document: {
        notes: 'dry day',
        steps: [
          { id: 's1', heard: 'knocky' },
          { id: 's2', heard: '' },
        ],
      },
    });
  });

  test('an edit of the same field in another tab is a conflict that names the place, and nothing is half applied', () => {
    const mine = changesBetween({ name: 'one', notes: '' }, { name: 'two', notes: 'x' });
    expect(applyChanges({ name: 'three', notes: '' }, mine)).toEqual({ kind: 'conflict', path: ['name'] });
  });

  test('keys named like what every object inherits are keys like any other', () => {
    const before = { a: 1 };
    const after = { a: 1, toString: 'x', valueOf: {} };
    const changes = changesBetween(before, after);
    expect(changes.map((change) => change.before)).toEqual([undefined, undefined]);
    expect(applyChanges(before, changes)).toEqual({ kind: 'changed', document: after });
    expect(sameValue({ valueOf: 1 }, {})).toBe(false);
  });
});
