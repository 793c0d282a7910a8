// Every code of the program as a word or a sentence of the bench.
import type { Notice } from '../../../app/notices.ts';
import type { Circumstance, Obstacle } from '../../../compare/conditions.ts';
import type { Missing } from '../../../compare/course.ts';
import type { Stage, Support } from '../../../record/record.ts';
import type { RefusedRow, ShelfReading } from '../../../record/shelf-csv.ts';
import type { Refusal } from '../../../signal/tap.ts';
import { number, withHalfWidth } from '../../parts/figures.ts';
import { count } from './count.ts';
import { exchange } from './exchange.ts';
import { shell } from './shell.ts';

const stageWords: Readonly<Record<Stage, string>> = {
  board: 'Board',
  joined: 'Joined plate',
  thicknessed: 'Thicknessed',
  braced: 'Braced',
  'on-rims': 'On the rims',
  closed: 'Closed box',
  strung: 'Strung',
};

const holdWords: Readonly<Record<Support['hold'], string>> = {
  'at-node': 'Held at a node',
  'on-foam': 'On foam blocks',
  'in-mould': 'Clamped in the mould',
  'box-open': 'Hole open',
  'box-hole-blocked': 'Hole blocked',
  'box-back-damped': 'Back damped',
};

const bridgeWords: Readonly<Record<Support['bridge'], string>> = {
  off: 'No bridge',
  taped: 'Bridge taped',
  glued: 'Bridge glued',
};

const spotWords: Readonly<Record<string, string>> = {
  'lower-bout-centre': 'Lower bout, centre',
  'bridge-centre': 'Bridge, centre',
  'bridge-bass': 'Bridge, bass end',
  'bridge-treble': 'Bridge, treble end',
  'behind-bridge': 'Behind the bridge',
  waist: 'Waist',
  'upper-bout': 'Upper bout',
  edge: 'Edge',
  corner: 'Corner of the board',
  'back-centre': 'Back, centre',
};

function refusalWords(refusal: Refusal): string {
  switch (refusal.because) {
    case 'clipped':
      return 'Too loud: the microphone was overdriven. Tap more gently or move it away.';
    case 'too-quiet':
      return `Too quiet: only ${number(Math.max(0, refusal.aboveRoomDb), 0)} dB above the room and its hum. Tap closer to the microphone or quiet the room.`;
    case 'struck-twice':
      return `Struck twice, ${number(refusal.afterS * 1000, 0)} ms apart. Let the finger bounce off.`;
    case 'decay-cut-short':
      return 'The ring was cut short. Leave the plate free until it is silent.';
    case 'drop-out':
      return 'The sound had a gap: the machine lost some of it. Tap again.';
    case 'spliced':
      return `Some of the ring is missing, ${number(refusal.afterS * 1000, 0)} ms after the tap: the machine lost it. Tap again.`;
    case 'not-a-tap':
      return {
        speech: 'That was a voice, not a tap.',
        clap: 'That was a clap or a knock on something dead, not the plate.',
        scrape: 'That was a scrape, not a tap.',
        noise: 'That was noise, not a tap.',
      }[refusal.soundsLike];
  }
}

function obstacleWords(obstacle: Obstacle): string {
  switch (obstacle.kind) {
    case 'stage':
      return `the stage differs (${stageWords[obstacle.before].toLowerCase()} and ${stageWords[obstacle.after].toLowerCase()})`;
    case 'hold':
      return `the support differs (${holdWords[obstacle.before].toLowerCase()} and ${holdWords[obstacle.after].toLowerCase()})`;
    case 'bridge':
      return `the bridge differs (${bridgeWords[obstacle.before].toLowerCase()} and ${bridgeWords[obstacle.after].toLowerCase()})`;
    case 'strings':
      return 'one was strung and the other not';
    case 'added-mass':
      return `the added mass or its place differs (${number(obstacle.beforeG, 1)} g and ${number(obstacle.afterG, 1)} g)`;
  }
}

/** @param degreesOff a difference of temperature in the maker's unit */
function circumstanceWords(circumstance: Circumstance, degreesOff: (differenceC: number) => string): string {
  switch (circumstance.kind) {
    case 'air': {
      const { humidityChangePercent: humidity, tempChangeC } = circumstance;
      const direction = (change: number) => (change > 0 ? 'up' : 'down');
      const changes = [
        humidity === undefined
          ? undefined
          : `humidity went ${direction(humidity)} by ${number(Math.abs(humidity), 0)} %RH`,
        tempChangeC === undefined
          ? undefined
          : `temperature went ${direction(tempChangeC)} by ${degreesOff(tempChangeC)}`,
      ].filter((change) => change !== undefined);
      const sentence = changes.join(', ');
      return `${sentence[0]?.toUpperCase()}${sentence.slice(1)} between the two. The change of air alone moves the modes by about ${withHalfWidth(circumstance.frequencyPercent, '%')}.`;
    }
    case 'humidity-unknown': {
      const { tempChangeC } = circumstance;
      const also =
        tempChangeC === undefined
          ? ''
          : ` It was ${degreesOff(tempChangeC)} ${tempChangeC > 0 ? 'warmer' : 'colder'} at the second, too.`;
      return `Humidity was not noted at both steps: what the weather did cannot be told from what the shaving did.${also}`;
    }
    case 'spot':
      return 'The plate was tapped at different spots: a mode may be missing on one side because it was not excited there.';
  }
}

function missingWords(missing: Missing): string {
  switch (missing.what) {
    case 'steps':
      return `needs ${missing.need} measured steps, has ${missing.have}`;
    case 'amounts':
      return 'needs the grams or millimetres taken off at two steps at least';
    case 'effect':
      return 'the passes so far moved it too little to tell';
  }
}

/** A notice as a sentence, and whether something needs the maker's attention. */
function noticeWords(notice: Notice): { readonly text: string; readonly urgent: boolean } {
  switch (notice.kind) {
    case 'microphone-refused':
      return {
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
      };
    case 'microphone-trouble':
      return {
        urgent: true,
        text: {
          unplugged:
            'The microphone was unplugged or taken away. Every tap so far is stored: plug it in and go on, or read what there is.',
          muted:
            'The system muted the microphone. Every tap so far is stored: unmute it and go on, or read what there is.',
          stalled:
            'No sound has come from the microphone for a while. Every tap so far is stored: go on, or read what there is.',
          'rate-wrong':
            'The microphone does not keep the rate it claims, so every frequency would be wrong by as much. Use another one.',
          'losing-sound': 'This machine may be losing sound: close other programs.',
          hidden: 'The page was hidden, so nothing was heard meanwhile. It listens again now that you can see it.',
        }[notice.trouble],
      };
    case 'bench-busy':
      return { urgent: false, text: 'A round is being tapped or read. Finish that one first; nothing was changed.' };
    case 'other-microphone':
      return {
        urgent: true,
        text: `${notice.wanted === '' ? 'The microphone you used last' : `"${notice.wanted}"`} is not plugged in. Listening with "${notice.used}" instead: its figures are as good, its levels are its own. Choose another one in Settings.`,
      };
    case 'storage':
      return {
        urgent: true,
        text: {
          full: 'The disk space the browser gives this page is full. Nothing stored is lost, but the last change is not saved: export your records and empty the bin.',
          refused: 'This browser window refuses to store anything (a private window?). Export before you close it.',
          unknown: 'The last change could not be stored. It is tried again with the next one; export to be safe.',
        }[notice.reason],
      };
    case 'changed-elsewhere':
      return {
        urgent: true,
        text: 'The same field was changed in another tab. What that tab stored is shown; your change there was not kept.',
      };
    case 'newer-elsewhere':
      return {
        urgent: true,
        text: 'A newer version of this page is open beside this one and has stored the record in its own way. Your last change was not kept: reload this page and make it again.',
      };
    case 'erased-elsewhere':
      return {
        urgent: true,
        text: `"${notice.name}" was erased in another tab. It is still shown here: change anything and it is stored again.`,
      };
    case 'put-back':
      return {
        urgent: true,
        text: `"${notice.name}" was erased while you worked on it here. It is stored again, with your taps: erase it again if that was meant.`,
      };
    case 'not-storable':
      return {
        urgent: true,
        text: `That was not kept, because it could not be read again later: a number too large, or a text too long (${notice.where}). Nothing else was changed.`,
      };
    case 'left-read':
      return {
        urgent: false,
        text: `${count(notice.rounds, 'round')} had been left unread when the page was last closed. ${notice.rounds === 1 ? 'It is' : 'They are'} read now.`,
      };
    case 'reading-silent':
      return {
        urgent: true,
        text: 'The taps are stored, but reading them came to no end. Press Read again; if that stops too, reload the page: it reads them when it opens.',
      };
    case 'cannot-undo':
      return { urgent: false, text: 'That cannot be undone any more: it was changed again since.' };
    case 'record-unreadable':
      return {
        urgent: true,
        text:
          notice.because === 'newer-version'
            ? `"${notice.name}" was written by a newer Platewright. It is kept as it is; update to open it.`
            : `"${notice.name}" cannot be read. It is kept as it is.`,
      };
    case 'file-refused':
      return {
        urgent: true,
        text: {
          'no-numbers': `"${notice.name}" holds samples that are no numbers: the file is damaged. Nothing was changed; save the recording again.`,
          'not-audio': `"${notice.name}" is not a sound that this browser can read. Nothing was changed.`,
          empty: `"${notice.name}" holds no sound. Nothing was changed.`,
          'too-long': `"${notice.name}" is longer than 20 minutes. Cut it to the taps first.`,
          'no-tap': `No tap was found in "${notice.name}". The list below says what was heard instead.`,
          rate: `"${notice.name}" has a sampling rate outside 8 to 192 kHz.`,
        }[notice.because],
      };
    case 'file-breaks-off':
      return {
        urgent: true,
        text: `"${notice.name}" breaks off in the middle. The taps up to there were taken; look for a whole copy of the file.`,
      };
    case 'imported':
    case 'exported':
    case 'import-stopped':
    case 'file-written':
    case 'sound-gone':
    case 'folder-refused':
    case 'bin-emptied':
    case 'mended':
      return exchange.notice(notice);
    case 'part-missing':
      return { urgent: true, text: shell.viewMissing };
    case 'deleted':
      return { urgent: false, text: `"${notice.name}" is in the bin. Undo brings it back.` };
    case 'piece-moved':
      return { urgent: false, text: `"${notice.name}" now belongs to "${notice.to}".` };
    case 'table-taken': {
      const first = notice.refused[0];
      return {
        urgent: first !== undefined,
        text: `Took ${count(notice.taken, 'piece')} from the table.${first === undefined ? '' : ` ${count(notice.refused.length, 'row')} not taken; row ${first.row}, column ${first.column}: ${rowWords(first)}.`}`,
      };
    }
    case 'table-refused':
      return {
        urgent: true,
        text: `"${notice.name}" was not taken: ${tableWords(notice.because)}. Nothing was changed.`,
      };
    case 'fit-failed':
      return {
        urgent: true,
        text: `The taps are stored, but reading them failed (${notice.message}). Press Read again.`,
      };
  }
}

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

/** Words of the codes that are used in several views. */
export const codes = {
  stages: stageWords,
  holds: holdWords,
  bridges: bridgeWords,
  spots: spotWords,
  refusal: refusalWords,
  obstacle: obstacleWords,
  circumstance: circumstanceWords,
  missing: missingWords,
  /** a word of these lists within a sentence: "braced" */
  midSentence: (word: string): string => word.toLowerCase(),
  notice: noticeWords,
};
