// The library's cards, kept apart from the records they were made from: losing them loses nothing.
import { promisifyRequest } from 'idb-keyval';
import type { LibraryCard } from '../compare/library.ts';
import { Database } from './database.ts';

/** A card and the state of the record it was made from. */
export interface StoredCard {
  readonly id: string;
  /** the record's summary when it was made */
  readonly changedAtIso: string;
  readonly card: LibraryCard;
}

const database = new Database('platewright-library');

/** Every card that is kept. */
export async function loadCards(): Promise<readonly StoredCard[]> {
  return database.run('readonly', (store) => promisifyRequest<StoredCard[]>(store.getAll()));
}

/** Keeps cards; each takes the place of the one of its record. */
export async function putCards(cards: readonly StoredCard[]): Promise<void> {
  await database.run('readwrite', (store) => {
    for (const card of cards) store.put(card, card.id);
    return promisifyRequest(store.transaction);
  });
}
