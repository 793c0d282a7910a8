// Shapes from taps, once they are wanted: most rounds are tapped at one spot, and the first load stays small.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { Notices } from './notices.ts';
import type { Shapes } from './shapes.ts';

export class LateShapes {
  private readonly now_ = signal<Shapes | undefined>(undefined);
  private readonly make: () => Promise<Shapes>;
  private readonly notices: Notices;
  private loading: Promise<void> | undefined;

  /** @param make fetches the code; refused where it cannot be had */
  constructor(make: () => Promise<Shapes>, notices: Notices) {
    this.make = make;
    this.notices = notices;
  }

  /** undefined until they were fetched */
  get now(): ReadonlySignal<Shapes | undefined> {
    return this.now_;
  }

  /** Whether a round from spot to spot goes on. */
  get isRoving(): boolean {
    return (this.now_.value?.roving.state.value.kind ?? 'idle') !== 'idle';
  }

  /** Fetches them, once. */
  load(): Promise<void> {
    this.loading ??= this.make().then(
      (shapes) => {
        this.now_.value = shapes;
      },
      () => {
        this.loading = undefined;
        this.notices.show({ kind: 'part-missing' });
      },
    );
    return this.loading;
  }
}
