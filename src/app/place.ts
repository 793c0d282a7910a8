// Where the maker is in the program: a view named in the address, so that back, forward and bookmarks work offline.
import { type ReadonlySignal, signal } from '@preact/signals';

export const views = ['bench', 'steps', 'plan', 'forecast', 'record', 'settings'] as const;
export type View = (typeof views)[number];

export interface Place {
  readonly view: ReadonlySignal<View>;
  /** reads the address again after it has changed */
  read(hash: string): void;
}

export const hashOf = (view: View): string => `#/${view}`;

export function createPlace(hash: string): Place {
  const view = signal(viewIn(hash));
  return {
    view,
    read: (next) => {
      view.value = viewIn(next);
    },
  };
}

function viewIn(hash: string): View {
  return views.find((view) => hash === hashOf(view)) ?? 'bench';
}
