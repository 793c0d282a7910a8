// What the page has to say of what happened.
import type { Notice } from '../../../app/notices.ts';
import type { RefusedRow, ShelfReading } from '../../../record/shelf-csv.ts';
import { count } from './count.ts';
import { exchange } from './exchange.ts';
import { shell } from './shell.ts';

type Said = { readonly text: string; readonly urgent: boolean };

/** A notice as a sentence, and whether something needs the maker's attention. */
export function noticeSentence(notice: Notice): Said {
  // Each entry takes the notice that it stands under: the type of the table holds that, the compiler cannot see it here.
  return (sentences[notice.kind] as (notice: Notice) => Said)(notice);
}

const sentences: { readonly [K in Notice['kind']]: (notice: Extract<Notice, { kind: K }>) => Said } = {
  'microphone-refused': (notice) => ({
    urgent: true,
    text: {
      'no-microphone': 'No microphone was found. Plug one in, or drop a recording here instead.',
      'permission-refused':
        'The browser was not allowed to use the microphone. Allow it beside the address, then press Start listening again.',
      'in-use': 'Another program is using the microphone. Close it, then press Start listening again.',
      'not-secure': 'The browser gives no microphone to this address. Open the page on localhost or over https.',
      rate: 'The microphone runs at a rate outside 8 to 192 kHz. Choose another one in the system settings.',
      unknown:
        'The microphone could not be opened. Choose another one in the system settings, or drop a recording here.',
    }[notice.reason],
  }),
  'microphone-trouble': (notice) => ({
    urgent: true,
    text: {
      unplugged:
        'The microphone was unplugged or taken away. Every tap so far is stored: plug it in and go on, or read what there is.',
      muted: 'The system muted the microphone. Every tap so far is stored: unmute it and go on, or read what there is.',
      stalled:
        'No sound has come from the microphone for a while. Every tap so far is stored: go on, or read what there is.',
      'rate-wrong':
        'The microphone does not keep the rate it claims, so every frequency would be wrong by as much. Use another one.',
      'losing-sound': 'This machine may be losing sound: close other programs.',
      hidden: 'The page was hidden, so nothing was heard meanwhile. It listens again now that you can see it.',
    }[notice.trouble],
  }),
  'bench-busy': () => ({
    urgent: false,
    text: 'A round is being tapped or read. Finish that one first; nothing was changed.',
  }),
  'other-microphone': (notice) => ({
    urgent: true,
    text: `${notice.wanted === '' ? 'The microphone you used last' : `"${notice.wanted}"`} is not plugged in. Listening with "${notice.used}" instead: its figures are as good, its levels are its own. Choose another one in Settings.`,
  }),
  storage: (notice) => ({
    urgent: true,
    text: {
      full: 'The disk space the browser gives this page is full. Nothing stored is lost, but the last change is not saved: export your records and empty the bin.',
      refused: 'This browser window refuses to store anything (a private window?). Export before you close it.',
      unknown: 'The last change could not be stored. It is tried again with the next one; export to be safe.',
    }[notice.reason],
  }),
  'changed-elsewhere': () => ({
    urgent: true,
    text: 'The same field was changed in another tab. What that tab stored is shown; your change there was not kept.',
  }),
  'newer-elsewhere': () => ({
    urgent: true,
    text: 'A newer version of this page is open beside this one and has stored the record in its own way. Your last change was not kept: reload this page and make it again.',
  }),
  'erased-elsewhere': (notice) => ({
    urgent: true,
    text: `"${notice.name}" was erased in another tab. It is still shown here: change anything and it is stored again.`,
  }),
  'put-back': (notice) => ({
    urgent: true,
    text: `"${notice.name}" was erased while you worked on it here. It is stored again, with your taps: erase it again if that was meant.`,
  }),
  'not-storable': (notice) => ({
    urgent: true,
    text: `That was not kept, because it could not be read again later: a number too large, or a text too long (${notice.where}). Nothing else was changed.`,
  }),
  'left-read': (notice) => ({
    urgent: false,
    text: `${count(notice.rounds, 'round')} had been left unread when the page was last closed. ${notice.rounds === 1 ? 'It is' : 'They are'} read now.`,
  }),
  'no-sound-here': () => ({ text: 'The sound of these taps is not on this machine.', urgent: false }),
  'reading-silent': () => ({
    urgent: true,
    text: 'The taps are stored, but reading them came to no end. Press Read again; if that stops too, reload the page: it reads them when it opens.',
  }),
  'cannot-undo': () => ({ urgent: false, text: 'That cannot be undone any more: it was changed again since.' }),
  'record-unreadable': (notice) => ({
    urgent: true,
    text:
      notice.because === 'newer-version'
        ? `"${notice.name}" was written by a newer Platewright. It is kept as it is; update to open it.`
        : `"${notice.name}" cannot be read. It is kept as it is.`,
  }),
  'file-refused': (notice) => ({
    urgent: true,
    text: {
      'no-numbers': `"${notice.name}" holds samples that are no numbers: the file is damaged. Nothing was changed; save the recording again.`,
      'not-audio': `"${notice.name}" is not a sound that this browser can read. Nothing was changed.`,
      empty: `"${notice.name}" holds no sound. Nothing was changed.`,
      'too-long': `"${notice.name}" is longer than 20 minutes. Cut it to the taps first.`,
      'no-tap': `No tap was found in "${notice.name}". The list below says what was heard instead.`,
      rate: `"${notice.name}" has a sampling rate outside 8 to 192 kHz.`,
    }[notice.because],
  }),
  'file-breaks-off': (notice) => ({
    urgent: true,
    text: `"${notice.name}" breaks off in the middle. The taps up to there were taken; look for a whole copy of the file.`,
  }),
  imported: exchange.notice,
  exported: exchange.notice,
  'import-stopped': exchange.notice,
  'file-written': exchange.notice,
  'sound-gone': exchange.notice,
  'folder-refused': exchange.notice,
  'bin-emptied': exchange.notice,
  mended: exchange.notice,
  'part-missing': () => ({ urgent: true, text: shell.viewMissing }),
  deleted: (notice) => ({ urgent: false, text: `"${notice.name}" is in the bin. Undo brings it back.` }),
  'piece-moved': (notice) => ({ urgent: false, text: `"${notice.name}" now belongs to "${notice.to}".` }),
  'table-taken': (notice) => {
    const first = notice.refused[0];
    return {
      urgent: first !== undefined,
      text: `Took ${count(notice.taken, 'piece')} from the table.${first === undefined ? '' : ` ${count(notice.refused.length, 'row')} not taken; row ${first.row}, column ${first.column}: ${rowWords(first)}.`}`,
    };
  },
  'table-refused': (notice) => ({
    urgent: true,
    text: `"${notice.name}" was not taken: ${tableWords(notice.because)}. Nothing was changed.`,
  }),
  'fit-failed': (notice) => ({
    urgent: true,
    text: `The taps are stored, but reading them failed (${notice.message}). Press Read again.`,
  }),
};

function rowWords({ because, found }: RefusedRow): string {
  switch (because) {
    case 'missing':
      return 'nothing stands there';
    case 'not-a-number':
      return `"${found}" is no number with a decimal point`;
    case 'out-of-range':
      return `${found} is more or less than any wood has`;
    case 'unknown-choice':
      return `"${found}" is none of top, back, side, brace-stock, bridge-blank`;
    case 'id-twice':
      return `"${found}" stands there twice`;
    case 'too-long':
      return `"${found} …" is too long a text`;
  }
}

function tableWords(reading: Exclude<ShelfReading, { kind: 'shelf' }>): string {
  if (reading.kind === 'columns-missing')
    return `these columns are missing: ${reading.columns.slice(0, 4).join(', ')}${reading.columns.length > 4 ? ' and others' : ''}`;
  return {
    empty: 'it is empty',
    'quote-not-closed': `a quotation mark in line ${reading.line} is never closed`,
    'text-after-quote': `line ${reading.line} goes on after a closing quotation mark`,
    'wrong-number-of-fields': `line ${reading.line} has more or fewer fields than the header`,
  }[reading.because];
}
