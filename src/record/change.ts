// Changes to a document as data. An edit anywhere in the program is an ordinary function from document to document;
// what it changed is found by comparing the two. Because a change knows what it replaced, it can be undone, and it
// can be applied to a document that another tab has changed elsewhere in the meantime.

/** One difference between two documents. */
export interface Change {
  /** object keys as {@link segmentOf} writes them; `#id` names the element of an array whose elements carry ids */
  readonly path: readonly string[];
  /** what stood there; undefined where nothing did */
  readonly before: unknown;
  /** what stands there now; undefined where nothing does */
  readonly after: unknown;
  /** place in the array of an element that came or went */
  readonly index?: number;
}

/** The document with the changes, or the first place that no longer holds what the change replaced. */
export type ChangeResult<T> =
  | { readonly kind: 'changed'; readonly document: T }
  | { readonly kind: 'conflict'; readonly path: readonly string[] };

type Obj = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Obj => typeof value === 'object' && value !== null && !Array.isArray(value);
/** A value of the object's own: a key named like something every object inherits must not find that. */
const own = (object: Obj, key: string): unknown => (Object.hasOwn(object, key) ? object[key] : undefined);
const isElement = (value: unknown): value is Obj & { readonly id: string } =>
  isObject(value) && typeof value['id'] === 'string';

/** A key as a segment of a path: one that looks like the name of an element must not be taken for it. */
export const segmentOf = (key: string): string => (/^[#~]/.test(key) ? `~${key}` : key);
/** The key that a segment stands for. */
export const keyOfSegment = (segment: string): string => (segment.startsWith('~') ? segment.slice(1) : segment);

/** What a segment of a path leads to from a value; undefined where nothing is there. */
export function childAt(value: unknown, segment: string): unknown {
  if (segment.startsWith('#')) return isKeyed(value) ? value.find(({ id }) => id === segment.slice(1)) : undefined;
  return isObject(value) ? own(value, keyOfSegment(segment)) : undefined;
}

function isKeyed(value: unknown): value is readonly (Obj & { readonly id: string })[] {
  return (
    Array.isArray(value) && value.every(isElement) && new Set(value.map((element) => element.id)).size === value.length
  );
}

/** Whether two JSON values are the same, whatever the order of their keys. Absent counts as undefined, -0 as 0. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (a === b || Object.is(a, b)) return true;
  if (Array.isArray(a) && Array.isArray(b))
    return a.length === b.length && a.every((value, i) => sameValue(value, b[i]));
  if (!isObject(a) || !isObject(b)) return false;
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].every((key) => sameValue(own(a, key), own(b, key)));
}

/**
 * The changes that lead from one document to another.
 * @param before plain JSON document
 * @param after  plain JSON document
 * @returns changes in the order in which they are to be applied; empty where the documents are the same
 */
export function changesBetween(before: unknown, after: unknown, path: readonly string[] = []): readonly Change[] {
  if (before === after || sameValue(before, after)) return [];
  if (isObject(before) && isObject(after)) {
    const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    return keys.flatMap((key) => changesBetween(own(before, key), own(after, key), [...path, segmentOf(key)]));
  }
  if (isKeyed(before) && isKeyed(after)) {
    const kept = new Map(after.map((element) => [element.id, element]));
    const had = new Map(before.map((element) => [element.id, element]));
    const common = before.filter((element) => kept.has(element.id)).map((element) => element.id);
    const stayed = after.filter((element) => had.has(element.id)).map((element) => element.id);
    if (sameValue(common, stayed)) {
      // Removals from the end and insertions from the start: the reversed list is then exactly the inverse.
      const gone = before
        .map(
          (element, index): Change => ({ path: [...path, `#${element.id}`], before: element, after: undefined, index }),
        )
        .filter((_, index) => !kept.has(before[index]?.id ?? ''))
        .reverse();
      const altered = common.flatMap((id) => changesBetween(had.get(id), kept.get(id), [...path, `#${id}`]));
      const come = after
        .map(
          (element, index): Change => ({ path: [...path, `#${element.id}`], before: undefined, after: element, index }),
        )
        .filter((_, index) => !had.has(after[index]?.id ?? ''));
      return [...gone, ...altered, ...come];
    }
  }
  return [{ path, before, after }];
}

/** The changes that take back the given ones. */
export function inverse(changes: readonly Change[]): readonly Change[] {
  return changes.map((change) => ({ ...change, before: change.after, after: change.before })).reverse();
}

/**
 * Applies changes to a document, all or none.
 * @returns the new document (parts that did not change are shared with the old one), or where it did not fit
 */
export function applyChanges<T>(document: T, changes: readonly Change[]): ChangeResult<T> {
  let current: unknown = document;
  for (const change of changes) {
    const next = applyAt(current, change, 0);
    if (next === conflict) return { kind: 'conflict', path: change.path };
    current = next;
  }
  return { kind: 'changed', document: current as T };
}

const conflict = Symbol('conflict');

function applyAt(node: unknown, change: Change, depth: number): unknown {
  const segment = change.path[depth];
  if (segment === undefined) return sameValue(node, change.before) ? change.after : conflict;
  if (segment.startsWith('#')) return isKeyed(node) ? applyToElement(node, segment.slice(1), change, depth) : conflict;
  if (!isObject(node)) return conflict;
  const key = keyOfSegment(segment);
  const child = applyAt(own(node, key), change, depth + 1);
  if (child === conflict) return conflict;
  const { [key]: _replaced, ...rest } = node;
  return child === undefined ? rest : { ...node, [key]: child };
}

function applyToElement(
  list: readonly (Obj & { readonly id: string })[],
  id: string,
  change: Change,
  depth: number,
): unknown {
  const at = list.findIndex((element) => element.id === id);
  const isLast = depth === change.path.length - 1;
  if (isLast && change.before === undefined) {
    if (at >= 0) return conflict;
    return list.toSpliced(
      Math.min(change.index ?? list.length, list.length),
      0,
      change.after as Obj & { readonly id: string },
    );
  }
  const element = list[at];
  if (element === undefined) return conflict;
  const next = applyAt(element, change, depth + 1);
  if (next === conflict) return conflict;
  return next === undefined ? list.toSpliced(at, 1) : list.with(at, next as Obj & { readonly id: string });
}
