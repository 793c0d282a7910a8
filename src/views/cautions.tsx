/** What the program is for and what it does not promise. Said on the page, not only in a manual. */
export function PromiseLine() {
  return (
    <p class="promise">
      Platewright repeats, compares, foresees and warns. It does not promise good tone or strength: those stay with your
      ears, your hands and your experience.
    </p>
  );
}

export type Caution = 'shaving' | 'strings' | 'dust' | 'heat' | 'stop';

const cautions: Readonly<Record<Caution, string>> = {
  shaving:
    'Both hands behind the edge, the plate flat on a hard support. Mark your lowest brace heights before you begin.',
  strings:
    'Slacken strings evenly before work inside, eyes away. A thin brace that taps well may still not bear the strings.',
  dust: 'Wood dust harms the lungs and nose: extraction and a mask while thinning, extraction off while tapping.',
  heat: 'Hot irons and glue pots burn; heat loosens braces near by.',
  stop: 'Wood cannot be put back. In doubt, wait a day and tap again.',
};

/** A short caution where it matters. Local rules and licensed practice come first. */
export function CautionLine(props: { readonly about: readonly Caution[] }) {
  return (
    <details class="caution">
      <summary>Take care</summary>
      <ul>
        {props.about.map((caution) => (
          <li key={caution}>{cautions[caution]}</li>
        ))}
        <li>Your local rules and your own experience come first.</li>
      </ul>
    </details>
  );
}
