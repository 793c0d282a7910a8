// Which language the page speaks. English is there from the start; another one is fetched when it is chosen.
import type { box } from './en/box.ts';
import type { forecast } from './en/forecast.ts';
import type { plan } from './en/plan.ts';
import type { shapes } from './en/shapes.ts';
import type { wood } from './en/wood.ts';
import { en } from './en.ts';

/**
 * What some views say. In English it is fetched with those views, so that the first load stays small (`words.ts` in the
 * folder of each); another language brings all of it.
 */
export interface LaterWords {
  readonly wood: typeof wood;
  readonly box: typeof box;
  readonly plan: typeof plan;
  readonly forecast: typeof forecast;
  readonly shapes: typeof shapes;
}

/** Everything the page says, by view: what every other language is. */
export type Words = typeof en & LaterWords;

interface Language {
  /** in the language itself */
  readonly name: string;
  load(): Promise<Words>;
}

/** Languages besides English by their tags (BCP 47). One more is one line here and one object of the type `Words`. */
const others: Readonly<Record<string, Language>> = {};

export const languageNames: readonly (readonly [tag: string, name: string])[] = [
  ['en', 'English'],
  ...Object.entries(others).map(([tag, { name }]) => [tag, name] as const),
];

/** The words now spoken. Read it while rendering, never at the start of a module. */
export let words: typeof en & Partial<LaterWords> = en;

/** Speaks the language of that tag from now on, English where there is none such. @returns the tag spoken */
export async function speak(tag: string): Promise<string> {
  const other = others[tag];
  words = other === undefined ? en : await other.load();
  return other === undefined ? 'en' : tag;
}
