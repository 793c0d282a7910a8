// The stock shelf: a record of its own kind, so that storing, undo, archives and other tabs work as for any record.
import { signal } from '@preact/signals';
import { pieceOfRow, rowOf } from '../compare/piece-table.ts';
import { HALF_WIDTH_95 } from '../quantity/estimate.ts';
import type { InstrumentRecord, Piece } from '../record/record.ts';
import { readShelf, writeShelf } from '../record/shelf-csv.ts';
import { putPiece, removePiece } from '../record/wood-edit.ts';
import type { ExchangePorts } from './exchange.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';
import type { Shelf, ShelfPorts } from './shelf.ts';

export type StockPorts = Pick<ExchangePorts, 'loadRecord' | 'nowIso' | 'readFile' | 'saveFile'> &
  Pick<ShelfPorts, 'newId'>;

/** A piece and the record it belongs to. */
export interface PieceAt {
  readonly piece: Piece;
  readonly recordId: string;
  readonly recordName: string;
}

/** Parts of the Wood view. */
export type WoodPage = 'pieces' | 'compare' | 'gluing';

export class Stock {
  readonly page = signal<WoodPage>('pieces');
  /** the piece on screen; where it is not among the open record's, its last one */
  readonly chosenId = signal<string | undefined>(undefined);
  private readonly ports: StockPorts;
  private readonly shelf: Shelf;
  private readonly preferences: Preferences;
  private readonly notices: Notices;

  constructor(ports: StockPorts, shelf: Shelf, preferences: Preferences, notices: Notices) {
    this.ports = ports;
    this.shelf = shelf;
    this.preferences = preferences;
    this.notices = notices;
  }

  /**
   * Opens the stock shelf; puts one up where there is none.
   * @param name of a new one, in the maker's language
   */
  async open(name: string): Promise<void> {
    const known = this.shelf.summaries.value.find((summary) => summary.kind === 'stock' && !summary.deleted);
    if (known !== undefined) await this.shelf.open(known.id);
    else await this.shelf.create({ name, kind: 'stock' });
  }

  /** Moves a piece of the open record to another one. */
  async move(piece: Piece, toId: string): Promise<void> {
    const from = this.shelf.record.value;
    if (from === undefined) return;
    const to = this.shelf.summaries.value.find((summary) => summary.id === toId)?.name ?? toId;
    const moved = await this.shelf.editBoth(
      'move-piece',
      from.id,
      toId,
      (record) => putPiece(record, piece),
      (record) => removePiece(record, piece.id),
    );
    if (moved) this.notices.show({ kind: 'piece-moved', name: piece.name, to });
  }

  /** Every piece there is: those of the open record first, as they are now. */
  async all(): Promise<readonly PieceAt[]> {
    await this.shelf.flush();
    const open = this.shelf.record.value;
    const records: InstrumentRecord[] = open === undefined ? [] : [open];
    for (const summary of this.shelf.summaries.value) {
      if (summary.deleted || summary.id === open?.id) continue;
      const read = await this.ports.loadRecord(summary.id);
      if (read?.kind === 'record') records.push(read.record);
    }
    return records.flatMap((record) =>
      (record.pieces ?? []).map((piece) => ({ piece, recordId: record.id, recordName: record.name })),
    );
  }

  /** Saves the pieces of the open record as a table. */
  writeTable(): void {
    const record = this.shelf.record.value;
    if (record === undefined) return;
    const text = writeShelf((record.pieces ?? []).map(rowOf));
    const name = record.kind === 'stock' ? 'stock-shelf.csv' : 'wood.csv';
    void this.ports.saveFile(name, 'text/csv', new TextEncoder().encode(text));
  }

  /** Takes the rows of a table into the open record: a row with the id of a piece there changes it, others are new. */
  async takeTable(file: File): Promise<void> {
    const into = this.shelf.record.value;
    if (into === undefined) return;
    const reading = readShelf(new TextDecoder().decode(await this.ports.readFile(file)));
    if (reading.kind !== 'shelf') {
      this.notices.show({ kind: 'table-refused', name: file.name, because: reading });
      return;
    }
    const { rulerMm, caliperMm, scaleG } = this.preferences.settings.value;
    const spread = {
      rulerMm: rulerMm / HALF_WIDTH_95,
      caliperMm: caliperMm / HALF_WIDTH_95,
      scaleG: scaleG / HALF_WIDTH_95,
    };
    const atIso = this.ports.nowIso();
    await this.shelf.edit(into.id, 'table', (record) =>
      reading.rows.reduce((grown, row) => {
        const known = record.pieces?.find((piece) => piece.id === row.id);
        const id = known?.id ?? this.ports.newId();
        return putPiece(grown, pieceOfRow(row, id, known, spread, atIso));
      }, record),
    );
    this.notices.show({ kind: 'table-taken', taken: reading.rows.length, refused: reading.refused });
  }
}
