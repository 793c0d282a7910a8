// Every text of the language says something, whatever figures it is given.
import { expect, test } from 'vitest';
import { box } from '../../src/views/words/en/box.ts';
import { forecast } from '../../src/views/words/en/forecast.ts';
import { plan } from '../../src/views/words/en/plan.ts';
import { wood } from '../../src/views/words/en/wood.ts';
import { en } from '../../src/views/words/en.ts';

/** Texts with the way to each; those of codes are asked for by their own tests. */
function texts(of: unknown, way: string): readonly (readonly [string, string])[] {
  if (typeof of === 'string') return [[way, of]];
  if (typeof of !== 'object' || of === null) return [];
  return Object.entries(of).flatMap(([key, value]) => texts(value, `${way}.${key}`));
}

const all = Object.entries({ ...en, wood, box, plan, forecast }).flatMap(([key, value]) => texts(value, key));

test('no text is empty, and none is there twice in one list of choices', () => {
  expect(all.length).toBeGreaterThan(1000);
  expect(all.filter(([, text]) => text.trim() === '').map(([way]) => way)).toEqual([]);
  // Of what is chosen from a list, two that read alike cannot be told apart.
  for (const list of ['codes.stages', 'codes.holds', 'codes.bridges', 'codes.spots', 'deeds']) {
    const said = all.filter(([way]) => way.startsWith(`${list}.`)).map(([, text]) => text);
    expect(new Set(said).size, list).toBe(said.length);
  }
});
