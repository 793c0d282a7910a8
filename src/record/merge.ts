// Two states of one record made into one: what came in is added to what is here, nothing here is overwritten, and what
// both say differently is listed for the maker to decide.
import { sameValue } from './change.ts';
import type { InstrumentRecord } from './record.ts';

/** One thing that both say differently; what is here was kept. */
export interface MergeConflict {
  /** object keys; `#id` names the element of a list whose elements carry ids */
  readonly path: readonly string[];
  readonly here: unknown;
  readonly incoming: unknown;
}

/** The record with everything that came in. */
export interface Merged {
  readonly record: InstrumentRecord;
  readonly conflicts: readonly MergeConflict[];
}

/**
 * Adds to a record what another state of it knows: steps, rounds, taps, targets, names and floors by their ids, texts and
 * numbers where there was nothing. Merging the same again changes nothing.
 * @throws RangeError if the two are not of one id
 */
export function mergeRecords(here: InstrumentRecord, incoming: InstrumentRecord): Merged {
  if (here.id !== incoming.id) throw new RangeError(`mergeRecords: ids ${here.id} and ${incoming.id}, need one id`);
  const conflicts: MergeConflict[] = [];
  const record = mergeValue(here, incoming, [], conflicts) as InstrumentRecord;
  return { record, conflicts };
}

type Obj = Readonly<Record<string, unknown>>;
type Element = Obj & { readonly id: string };
const isObject = (value: unknown): value is Obj => typeof value === 'object' && value !== null && !Array.isArray(value);
const isKeyed = (value: unknown): value is readonly Element[] =>
  Array.isArray(value) && value.every((element) => isObject(element) && typeof element['id'] === 'string');

/** Where the record lies on the shelf is this machine's business. */
const shelfKeys = ['archived', 'deletedAtIso'];

function mergeValue(here: unknown, incoming: unknown, path: readonly string[], conflicts: MergeConflict[]): unknown {
  if (incoming === undefined || incoming === '' || sameValue(here, incoming)) return here;
  if (here === undefined || here === '') return incoming;
  if (isKeyed(here) && isKeyed(incoming)) return mergeList(here, incoming, path, conflicts);
  // A fit stands or falls as a whole: modes of one with the taps of another are nobody's.
  if (isObject(here) && isObject(incoming) && path.at(-1) !== 'fit') {
    const isRound = path.at(-2) === 'rounds';
    return isRound ? mergeRound(here, incoming, path, conflicts) : mergeObject(here, incoming, path, conflicts);
  }
  conflicts.push({ path, here, incoming });
  return here;
}

function mergeObject(here: Obj, incoming: Obj, path: readonly string[], conflicts: MergeConflict[]): Obj {
  const merged = new Map(Object.entries(here));
  for (const [key, value] of Object.entries(incoming)) {
    if (path.length === 0 && shelfKeys.includes(key)) continue;
    const present = Object.hasOwn(here, key) ? here[key] : undefined;
    merged.set(key, mergeValue(present, value, [...path, key], conflicts));
  }
  return Object.fromEntries(merged);
}

/**
 * A round whose taps one side has all of and more is that side's round: its state and its fit. Where each side has taps
 * that the other lacks, no fit is of all of them, and none is kept.
 */
function mergeRound(here: Obj, incoming: Obj, path: readonly string[], conflicts: MergeConflict[]): Obj {
  const ids = (round: Obj): ReadonlySet<unknown> => new Set((round['taps'] as readonly Element[]).map((tap) => tap.id));
  const mine = ids(here);
  const theirs = ids(incoming);
  const hasAll = [...theirs].every((id) => mine.has(id));
  const lacksNone = [...mine].every((id) => theirs.has(id));
  if (hasAll && lacksNone) return mergeObject(here, incoming, path, conflicts);
  const { fit: myFit, state: myState, ...mineRest } = here;
  const { fit: theirFit, state: theirState, ...theirRest } = incoming;
  const rest = mergeObject(mineRest, theirRest, path, conflicts);
  const [fit, state] = hasAll ? [myFit, myState] : lacksNone ? [theirFit, theirState] : [undefined, myState];
  return { ...rest, state, ...(fit === undefined ? {} : { fit }) };
}

function mergeList(
  here: readonly Element[],
  incoming: readonly Element[],
  path: readonly string[],
  conflicts: MergeConflict[],
): readonly Element[] {
  const sense = senses.get(path.join('.'));
  const known = new Map(here.map((element) => [element.id, element]));
  const theirs = new Map(incoming.map((element) => [element.id, element]));
  const merged = here.map((element) => {
    const other = theirs.get(element.id);
    const merge = (): unknown => mergeValue(element, other, [...path, `#${element.id}`], conflicts);
    return other === undefined ? element : (merge() as Element);
  });
  // As they stand once joined: what one said before it was joined may be free for another.
  const said = new Map(sense === undefined ? [] : merged.map((element) => [sense(element), element]));
  let previous: string | undefined;
  for (const element of theirs.values()) {
    if (known.has(element.id)) {
      previous = element.id;
      continue;
    }
    const rival = sense && said.get(sense(element));
    if (rival !== undefined) {
      conflicts.push({ path: [...path, `#${rival.id}`], here: rival, incoming: element });
      continue;
    }
    // Behind the one it followed there; before everything where it came first.
    merged.splice(merged.findIndex((one) => one.id === previous) + 1, 0, element);
    previous = element.id;
  }
  return merged;
}

/** What an element says something about: two of different ids that speak of the same cannot both stand. */
const senses: ReadonlyMap<string, (element: Obj) => string> = new Map([
  ['pins', (pin) => JSON.stringify([pin['stepId'], pin['mode']])],
  ['targets', (target) => JSON.stringify([target['stage'], target['mode']])],
  ['floors', (floor) => JSON.stringify([floor['brace']])],
]);
