// Recordings dropped on the bench: each file is one hold, and goes the same way as the microphone.
import { readRecording } from '../capture/recording.ts';
import type { RecordHome } from '../record/round-edit.ts';
import { splitTaps } from '../signal/hear/listener.ts';
import type { Bench } from './bench.ts';
import type { Heard, RoundSetting } from './bench-state.ts';
import type { Notices } from './notices.ts';

export class Recordings {
  private readonly bench: Bench;
  private readonly notices: Notices;
  private readonly readFile: (file: Blob) => Promise<Uint8Array<ArrayBuffer>>;

  constructor(bench: Bench, notices: Notices, readFile: (file: Blob) => Promise<Uint8Array<ArrayBuffer>>) {
    this.bench = bench;
    this.notices = notices;
    this.readFile = readFile;
  }

  /**
   * Splits the files into taps and reads them as one round.
   * @param home the step or the piece they belong to; asked for only when a tap was found, so that files without one
   *             leave nothing behind
   */
  async take(home: () => RecordHome | undefined, files: readonly File[], setting?: RoundSetting): Promise<void> {
    const { holds, heard } = await this.tapsIn(files);
    const place = holds.length > 0 ? home() : undefined;
    if (place !== undefined) await this.bench.takeRecordings(place, namesOf(files), holds, setting);
    this.bench.heard.value = heard;
  }

  /** The taps of each file that has any, and all that was heard; of a file that tells nothing the maker is told. */
  async tapsIn(files: readonly File[]): Promise<{ readonly holds: readonly HeardTap[][]; readonly heard: Heard[] }> {
    const holds: HeardTap[][] = [];
    const heard: Heard[] = [];
    for (const file of files) {
      const recording = await readRecording(await this.readFile(file));
      if (recording.kind === 'refused') {
        this.notices.show({ kind: 'file-refused', name: file.name, because: recording.because });
        continue;
      }
      const verdicts = splitTaps(recording.samples, recording.sampleRateHz);
      const taps = verdicts.filter((verdict) => verdict.kind === 'accepted');
      heard.push(...verdicts.map((verdict, i) => ({ ...verdict, number: heard.length + i })));
      if (taps.length === 0) this.notices.show({ kind: 'file-refused', name: file.name, because: 'no-tap' });
      else {
        holds.push(taps);
        if (recording.breaksOff) this.notices.show({ kind: 'file-breaks-off', name: file.name });
      }
    }
    return { holds, heard };
  }
}

/** A tap with how far it stands above the room. */
export interface HeardTap {
  readonly tap: Heard['tap'];
  readonly aboveRoomDb: number;
}

/** What a round from files has as its source. */
export const namesOf = (files: readonly File[]): string =>
  files
    .map((file) => file.name)
    .join(', ')
    .slice(0, 400);
