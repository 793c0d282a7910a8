// Sentences that the page owes the maker: what happened, what to do next. Codes here, words in the views.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { MicrophoneRefusal, MicrophoneTrouble } from '../capture/microphone.ts';
import type { RefusedRow, ShelfReading } from '../record/shelf-csv.ts';
import type { StorageRefusal } from '../storage/database.ts';

export type Notice =
  | { readonly kind: 'microphone-refused'; readonly reason: Exclude<MicrophoneRefusal, 'given-up'> }
  | { readonly kind: 'microphone-trouble'; readonly trouble: MicrophoneTrouble | 'hidden' }
  /** taps are being taken or read: the bench can do one round at a time */
  | { readonly kind: 'bench-busy' }
  | { readonly kind: 'other-microphone'; readonly wanted: string; readonly used: string }
  | { readonly kind: 'storage'; readonly reason: StorageRefusal }
  | { readonly kind: 'changed-elsewhere' }
  /** a page of a later version has stored the record in a format of its own */
  | { readonly kind: 'newer-elsewhere' }
  | { readonly kind: 'erased-elsewhere'; readonly name: string }
  /** erased while it was worked on here, and stored again */
  | { readonly kind: 'put-back'; readonly name: string }
  /** what was to be stored could not be read again; `where` as keys joined by points */
  | { readonly kind: 'not-storable'; readonly where: string }
  | { readonly kind: 'cannot-undo' }
  | { readonly kind: 'record-unreadable'; readonly name: string; readonly because: string }
  | {
      readonly kind: 'file-refused';
      readonly name: string;
      readonly because: 'not-audio' | 'empty' | 'too-long' | 'no-numbers' | 'no-tap' | 'rate';
    }
  | { readonly kind: 'file-breaks-off'; readonly name: string }
  | { readonly kind: 'import-stopped'; readonly done: number; readonly of: number; readonly reason: StorageRefusal }
  | { readonly kind: 'imported'; readonly records: number; readonly taps: number; readonly lost: number }
  | {
      readonly kind: 'exported';
      readonly files: number;
      readonly records: number;
      readonly taps: number;
      readonly missing: number;
      readonly unreadable: number;
    }
  | { readonly kind: 'file-written'; readonly what: 'tables' | 'universal' | 'empty' | 'sound' }
  | { readonly kind: 'part-missing' }
  | { readonly kind: 'sound-gone' }
  | { readonly kind: 'folder-refused'; readonly name: string }
  | { readonly kind: 'bin-emptied'; readonly records: number; readonly taps: number }
  | { readonly kind: 'mended'; readonly name: string; readonly leftOut: number; readonly roundsRead: number }
  | { readonly kind: 'deleted'; readonly name: string }
  | { readonly kind: 'piece-moved'; readonly name: string; readonly to: string }
  | { readonly kind: 'table-taken'; readonly taken: number; readonly refused: readonly RefusedRow[] }
  | {
      readonly kind: 'table-refused';
      readonly name: string;
      readonly because: Exclude<ShelfReading, { kind: 'shelf' }>;
    }
  | { readonly kind: 'fit-failed'; readonly message: string }
  /** rounds that an earlier page had left unread */
  | { readonly kind: 'left-read'; readonly rounds: number }
  /** a tap that is to be played is not on this machine */
  | { readonly kind: 'no-sound-here' }
  /** the worker that reads the taps never answered */
  | { readonly kind: 'reading-silent' };

export class Notices {
  private readonly shown = signal<Notice | undefined>(undefined);

  get current(): ReadonlySignal<Notice | undefined> {
    return this.shown;
  }

  show(notice: Notice): void {
    this.shown.value = notice;
  }

  dismiss(): void {
    this.shown.value = undefined;
  }
}
