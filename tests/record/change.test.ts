import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyChanges,
  changesBetween,
  childAt,
  inverse,
  keyOfSegment,
  sameValue,
  segmentOf,
} from '../../src/record/change.ts';

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

  describe('a change that no longer fits is a conflict', () => {
    const change = (path: readonly string[], before: unknown, after: unknown) => [{ path, before, after }];
    test.each([
      ['below a text', { a: 'text' }, change(['a', 'b'], undefined, 1), ['a', 'b']],
      ['below nothing', {}, change(['a', 'b'], undefined, 1), ['a', 'b']],
      ['below null', { a: null }, change(['a', 'b'], undefined, 1), ['a', 'b']],
      ['below a list', { a: [1] }, change(['a', 'length'], 1, 2), ['a', 'length']],
      [
        'of an element of what is no list',
        { a: { id: 'x' } },
        change(['a', '#x'], undefined, { id: 'x' }),
        ['a', '#x'],
      ],
      [
        'of an element where two have its id',
        { a: [{ id: 'x' }, { id: 'x' }] },
        change(['a', '#x', 'b'], undefined, 1),
        ['a', '#x', 'b'],
      ],
      [
        'of an element among others without ids',
        { a: [{ id: 'x' }, 3] },
        change(['a', '#x', 'b'], undefined, 1),
        ['a', '#x', 'b'],
      ],
      ['of an element that is gone', { a: [{ id: 'y' }] }, change(['a', '#x', 'b'], undefined, 1), ['a', '#x', 'b']],
      [
        'putting in an element that is there',
        { a: [{ id: 'x' }] },
        change(['a', '#x'], undefined, { id: 'x', b: 1 }),
        ['a', '#x'],
      ],
      [
        'taking out an element that is another now',
        { a: [{ id: 'x', b: 1 }] },
        change(['a', '#x'], { id: 'x' }, undefined),
        ['a', '#x'],
      ],
      ['of the whole', { a: 1 }, change([], { a: 2 }, { a: 3 }), []],
    ])('%s', (_, document, changes, path) => {
      expect(applyChanges(document, changes)).toEqual({ kind: 'conflict', path });
    });
  });

  test('an element comes back where it stood, or last where the list is shorter now', () => {
    const list = (...ids: readonly string[]) => ({ a: ids.map((id) => ({ id })) });
    const put = (index: number | undefined) => [
      { path: ['a', '#n'], before: undefined, after: { id: 'n' }, ...(index === undefined ? {} : { index }) },
    ];
    const idsWith = (ids: readonly string[], index: number | undefined) => {
      const result = applyChanges(list(...ids), put(index));
      return result.kind === 'changed' ? result.document.a.map(({ id }) => id).join('') : result.kind;
    };
    expect(idsWith(['x', 'y'], 1)).toBe('xny');
    expect(idsWith(['x', 'y'], 0)).toBe('nxy');
    expect(idsWith(['x'], 5)).toBe('xn');
    expect(idsWith(['x', 'y'], undefined)).toBe('xyn');
    expect(idsWith([], 0)).toBe('n');
  });

  test('elements in another order, or without ids of their own, are one change of their list', () => {
    const order = changesBetween({ a: [{ id: 'x' }, { id: 'y' }] }, { a: [{ id: 'y' }, { id: 'x' }] });
    expect(order.map(({ path }) => path)).toEqual([['a']]);
    const twins = changesBetween({ a: [{ id: 'x' }, { id: 'x' }] }, { a: [{ id: 'x' }] });
    expect(twins.map(({ path }) => path)).toEqual([['a']]);
    const plain = changesBetween({ a: [1, 2] }, { a: [1, 3] });
    expect(plain).toEqual([{ path: ['a'], before: [1, 2], after: [1, 3] }]);
    const one = changesBetween({ a: [{ id: 'x', b: 1 }, { id: 'y' }] }, { a: [{ id: 'x', b: 2 }, { id: 'y' }] });
    expect(one).toEqual([{ path: ['a', '#x', 'b'], before: 1, after: 2 }]);
  });

  test('keys that look like names of elements lead to the keys', () => {
    const document = { '#x': { '~': 1 }, '~y': [{ id: 'x', b: 2 }] };
    const changes = changesBetween(document, { '#x': { '~': 3 }, '~y': [{ id: 'x', b: 4 }] });
    expect(changes.map(({ path }) => path)).toEqual([
      ['~#x', '~~'],
      ['~~y', '#x', 'b'],
    ]);
    expect(changes.map(({ path }) => path.reduce<unknown>(childAt, document))).toEqual([1, 2]);
    expect(keyOfSegment(segmentOf('#x'))).toBe('#x');
    expect(keyOfSegment('plain')).toBe('plain');
    expect(segmentOf('a#')).toBe('a#');
  });

  test('nothing is found where nothing is', () => {
    expect(childAt({ a: 1 }, 'b')).toBeUndefined();
    expect(childAt({ a: 1 }, 'toString')).toBeUndefined();
    expect(childAt('text', 'length')).toBeUndefined();
    expect(childAt([{ id: 'x' }], '#y')).toBeUndefined();
    expect(childAt([1], '#1')).toBeUndefined();
    expect(childAt([{ id: 'x' }], '0')).toBeUndefined();
  });

  test.each([
    [0, -0, true],
    [Number.NaN, Number.NaN, true],
    [[1, 2], [1, 2], true],
    [[1, 2], [1], false],
    [[1], [1, 2], false],
    [{ a: undefined }, {}, true],
    [{ a: 1, b: 2 }, { b: 2, a: 1 }, true],
    [{ a: 1 }, { a: 1, b: 2 }, false],
    [{}, [], false],
    [[], {}, false],
    [null, {}, false],
    [{}, null, false],
    ['1', 1, false],
    [null, undefined, false],
  ])('%j and %j are the same: %s', (a, b, expected) => {
    expect(sameValue(a, b)).toBe(expected);
  });

  test('what did not change is shared', () => {
    const document = { a: { deep: [1] }, b: 1 };
    const result = applyChanges(document, changesBetween(document, { ...document, b: 2 }));
    expect(result.kind === 'changed' && result.document.a).toBe(document.a);
    expect(changesBetween(document, structuredClone(document))).toEqual([]);
  });
});
