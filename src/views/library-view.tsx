import { words } from './words/language.ts';

export function LibraryView() {
  return <h1>{words.library.title}</h1>;
}
