// Choosing a brace of the plan, or those of both sides together.
import { sideless } from '../../record/cut-place.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { words } from '../words/language.ts';

/** The choice of none: what it is about is named in words only. */
export const inWords = 'in-words';
/** Key of a choice. */
export const braceKey = (ids: readonly string[]): string => (ids.length === 0 ? inWords : ids.join(' '));

/** What may be chosen: each brace of the plan, and those of both sides together. */
export function bracesToChoose({
  plan,
}: InstrumentRecord): readonly { readonly ids: readonly string[]; readonly name: string }[] {
  const braces = plan?.braces ?? [];
  const pairs = new Map<string, string[]>();
  for (const { id, name } of braces) pairs.set(sideless(name), [...(pairs.get(sideless(name)) ?? []), id]);
  return [
    ...braces.map(({ id, name }) => ({ ids: [id], name })),
    ...[...pairs]
      .filter(([, ids]) => ids.length === 2)
      .map(([name, ids]) => ({ ids, name: words.steps.onBothSides(name) })),
  ];
}
