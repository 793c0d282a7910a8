// Where the maker is in the program: a view and a part of it named in the address, so that back, forward and bookmarks
// work offline.
import { type ReadonlySignal, signal } from '@preact/signals';

export const views = ['bench', 'steps', 'wood', 'plan', 'forecast', 'box', 'record', 'settings'] as const;
export type View = (typeof views)[number];

export interface Place {
  readonly view: ReadonlySignal<View>;
  /** what follows the view in the address; empty where nothing does */
  readonly part: ReadonlySignal<string>;
  /** reads the address again after it has changed */
  read(hash: string): void;
}

export const hashOf = (view: View, part = ''): string => `#/${view}${part === '' ? '' : `/${part}`}`;

export function createPlace(hash: string): Place {
  const view = signal(viewIn(hash));
  const part = signal(partIn(hash));
  return {
    view,
    part,
    read: (next) => {
      view.value = viewIn(next);
      part.value = partIn(next);
    },
  };
}

function viewIn(hash: string): View {
  return views.find((view) => hash.split('/')[1] === view) ?? 'bench';
}

const partIn = (hash: string): string => hash.split('/')[2] ?? '';
