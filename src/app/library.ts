// The library: one card an instrument, made when its record is first looked over and kept until that changes, so that
// hundreds of instruments are listed without opening one.
import { type ReadonlySignal, signal } from '@preact/signals';
import { cardMethod, cardOf, type LibraryCard } from '../compare/library.ts';
import type { InstrumentRecord, RecordSummary, Stage, Target } from '../record/record.ts';
import type { StoredCard } from '../storage/library-cards.ts';
import type { Shelf } from './shelf.ts';

/** What the library needs of the machine. */
export interface LibraryPorts {
  loadCards(): Promise<readonly StoredCard[]>;
  putCards(cards: readonly StoredCard[]): Promise<void>;
  newId(): string;
}

/** How many records are read before what was found is shown. */
const atOnce = 12;

export class Library {
  /** of every readable instrument that is not in the bin; grows while they are read */
  readonly cards: ReadonlySignal<readonly LibraryCard[]>;
  /** records still to be read; 0 when all are there */
  readonly waiting: ReadonlySignal<number>;

  private readonly cardsState = signal<readonly LibraryCard[]>([]);
  private readonly waitingState = signal(0);
  private readonly kept = new Map<string, StoredCard>();
  private loading: Promise<void> | undefined;
  private readonly ports: LibraryPorts;
  private readonly shelf: Shelf;
  private readonly peek: (id: string) => Promise<InstrumentRecord | undefined>;

  constructor(ports: LibraryPorts, shelf: Shelf, peek: (id: string) => Promise<InstrumentRecord | undefined>) {
    this.ports = ports;
    this.shelf = shelf;
    this.peek = peek;
    this.cards = this.cardsState;
    this.waiting = this.waitingState;
  }

  /** Brings the cards up to date with the shelf; what changes on it meanwhile is taken up afterwards. */
  load(): Promise<void> {
    this.loading = (this.loading ?? Promise.resolve()).then(() => this.update());
    return this.loading;
  }

  /**
   * Gives the open instrument these targets at a stage, in one edit; those of the same modes give way.
   * @param origin where they come from, in the maker's language
   */
  aim(stage: Stage, targets: readonly Omit<Target, 'id' | 'origin'>[], origin: string): void {
    const modes = new Set(targets.map((target) => target.mode));
    const open = this.shelf.record.value;
    if (open === undefined) return;
    void this.shelf.edit(open.id, 'targets', (record) => ({
      ...record,
      targets: [
        ...record.targets.filter((known) => !(known.stage === stage && modes.has(known.mode))),
        ...targets.map((target) => ({ ...target, id: this.ports.newId(), origin })),
      ],
    }));
  }

  private async update(): Promise<void> {
    await this.shelf.flush();
    const wanted = this.shelf.summaries.value.filter((summary) => summary.kind === 'instrument' && !summary.deleted);
    // Cards are a convenience: a browser that keeps none has them made anew each time.
    if (this.kept.size === 0)
      for (const card of await this.ports.loadCards().catch(() => [])) this.kept.set(card.id, card);
    const missing = wanted.filter((summary) => !this.isFresh(summary));
    this.show(wanted, missing.length);
    for (let from = 0; from < missing.length; from += atOnce) {
      const made = await this.make(missing.slice(from, from + atOnce));
      await this.ports.putCards(made).catch(() => undefined);
      this.show(wanted, Math.max(0, missing.length - from - atOnce));
    }
  }

  private isFresh({ id, changedAtIso }: RecordSummary): boolean {
    const kept = this.kept.get(id);
    return kept?.changedAtIso === changedAtIso && kept.card.method === cardMethod;
  }

  private async make(summaries: readonly RecordSummary[]): Promise<readonly StoredCard[]> {
    const made: StoredCard[] = [];
    for (const { id, changedAtIso } of summaries) {
      const record = await this.peek(id);
      if (record === undefined) continue;
      const stored = { id, changedAtIso, card: cardOf(record) };
      this.kept.set(id, stored);
      made.push(stored);
    }
    return made;
  }

  private show(wanted: readonly RecordSummary[], waiting: number): void {
    this.cardsState.value = wanted.flatMap(({ id }) => this.kept.get(id)?.card ?? []);
    this.waitingState.value = waiting;
  }
}
