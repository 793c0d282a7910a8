import { words } from '../words/language.ts';

/** What the program is for and what it does not promise. Said on the page, not only in a manual. */
export function PromiseLine() {
  return <p class="promise">{words.bench.promise}</p>;
}

export type Caution = keyof typeof words.bench.cautions;

/** A short caution where it matters. Local rules and licensed practice come first. */
export function CautionLine(props: { readonly about: readonly Caution[] }) {
  return (
    <details class="caution">
      <summary>{words.bench.takeCare}</summary>
      <ul>
        {props.about.map((caution) => (
          <li key={caution}>{words.bench.cautions[caution]}</li>
        ))}
        <li>{words.bench.localRules}</li>
      </ul>
    </details>
  );
}
