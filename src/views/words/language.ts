// Which language the page speaks. English is there from the start; another one is fetched when it is chosen.
import { en } from './en.ts';

/** Everything the page says, by view. */
export type Words = typeof en;

interface Language {
  /** in the language itself */
  readonly name: string;
  load(): Promise<Words>;
}

/** By their tags (BCP 47). A language more is one line here and one object of the type `Words`. */
const languages: Readonly<Record<string, Language>> = {
  en: { name: 'English', load: () => Promise.resolve(en) },
};

export const languageNames: readonly (readonly [tag: string, name: string])[] = Object.entries(languages).map(
  ([tag, { name }]) => [tag, name],
);

/** The words now spoken. Read it while rendering, never at the start of a module. */
export let words: Words = en;

/** Speaks the language of that tag from now on, English where there is none such. @returns the tag spoken */
export async function speak(tag: string): Promise<string> {
  const spoken = tag in languages ? tag : 'en';
  words = (await languages[spoken]?.load()) ?? en;
  return spoken;
}
