// Where the maker is in the program: a view and a part of it named in the address, so that back, forward and bookmarks
// work offline.
import { type ReadonlySignal, type Signal, signal } from '@preact/signals';

export const views = ['bench', 'steps', 'wood', 'plan', 'forecast', 'box', 'record', 'settings'] as const;
export type View = (typeof views)[number];

export const hashOf = (view: View, part = ''): string => `#/${view}${part === '' ? '' : `/${part}`}`;

export class Place {
  private readonly viewNow: Signal<View>;
  private readonly partNow: Signal<string>;
  private readonly detailNow: Signal<string>;

  constructor(hash: string) {
    this.viewNow = signal(viewIn(hash));
    this.partNow = signal(partIn(hash));
    this.detailNow = signal(detailIn(hash));
  }

  get view(): ReadonlySignal<View> {
    return this.viewNow;
  }

  /** what follows the view in the address; empty where nothing does */
  get part(): ReadonlySignal<string> {
    return this.partNow;
  }

  /** what follows the part in the address, as the name of a round; empty where nothing does */
  get detail(): ReadonlySignal<string> {
    return this.detailNow;
  }

  /** Reads the address again after it has changed. */
  read(hash: string): void {
    this.viewNow.value = viewIn(hash);
    this.partNow.value = partIn(hash);
    this.detailNow.value = detailIn(hash);
  }
}

function viewIn(hash: string): View {
  return views.find((view) => hash.split('/')[1] === view) ?? 'bench';
}

const partIn = (hash: string): string => hash.split('/')[2] ?? '';
const detailIn = (hash: string): string => hash.split('/')[3] ?? '';
