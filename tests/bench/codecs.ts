// Taps that came as compressed files, as a telephone or a recorder makes them: what is read from them beside the same sounds as
// they were. Encoders of the ffmpeg program, where it is installed.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeWav16 } from '../../src/files/wav-write.ts';
import { splitTaps } from '../../src/signal/hear/listener.ts';
import { fitRound } from '../../src/signal/round.ts';
import { RECORDER_FAULTS, type RecorderFault } from '../../src/signal/tap.ts';
import { lowPassOf, type RoundScore, scoreOf, type Truth } from './furnished-rounds.ts';
import { asked, errors, foundAndSpurious, holds } from './side-by-side.ts';
import { drawStruck, evenly, soundOf } from './struck.ts';
import { seeded } from './tap-signals.ts';

const RATE_HZ = 48_000;
const TAPS = 5;
const GAP_S = 2.2;
const BEFORE_S = 1.2;
/** Of the ring's first 35 ms over the room: a quiet room and a careful hand, and less. */
const OVER_ROOM_DB = [30, 55] as const;
/** The pieces of struck.ts have no modes above that are not asked for. */
const ASKED_TO_HZ = 1200;

interface Codec {
  readonly name: string;
  readonly file: string;
  readonly options: readonly string[];
}

/** One channel at the rates that recorders, telephones and messengers use, kbit/s. */
const CODECS: readonly Codec[] = [
  ...[64, 128, 192].map((kbps) => codec('MP3', 'mp3', 'libmp3lame', kbps)),
  ...[64, 128, 192].map((kbps) => codec('AAC', 'm4a', 'aac', kbps)),
  ...[24, 64, 128].map((kbps) => codec('Opus', 'opus', 'libopus', kbps)),
];

function codec(name: string, suffix: string, encoder: string, kbps: number): Codec {
  return { name: `${name} ${kbps}`, file: `coded.${suffix}`, options: ['-c:a', encoder, '-b:a', `${kbps}k`] };
}

interface CodecRound extends Truth {
  readonly sound: Float32Array;
}

/** Five taps of one piece of three to twelve modes, struck in one place. */
function codecRound(seed: number): CodecRound {
  const random = seeded(seed);
  const drawn = drawStruck(random, 'many');
  const sound = soundOf(
    {
      ...drawn,
      sampleRateHz: RATE_HZ,
      overRoomDb: evenly(random, ...OVER_ROOM_DB),
      onsetsS: Array.from({ length: TAPS }, (_, k) => BEFORE_S + k * GAP_S + evenly(random, 0, 0.1)),
      strengths: Array.from({ length: TAPS }, () => 10 ** (evenly(random, -6, 0) / 20)),
      durationS: BEFORE_S + TAPS * GAP_S,
    },
    random,
  );
  const levels = drawn.modes.map(
    ({ level, frequencyHz }) => 20 * Math.log10(level * lowPassOf(drawn.contactS, frequencyHz)),
  );
  const loudest = Math.max(...levels);
  const modes = drawn.modes.map(({ frequencyHz, q }, m) => ({ frequencyHz, q, levelDb: levels[m]! - loudest }));
  return { sound, modes, denseFromHz: ASKED_TO_HZ };
}

/** The sound as a file of this kind gives it back. */
function through({ file, options }: Codec, sound: Float32Array, folder: string): Float32Array {
  const ffmpeg = (...given: readonly string[]) => execFileSync('ffmpeg', ['-v', 'error', '-y', ...given]);
  const [plain, coded, back] = ['plain.wav', file, 'back.f32'].map((name) => join(folder, name)) as [
    string,
    string,
    string,
  ];
  writeFileSync(plain, writeWav16([sound], RATE_HZ));
  ffmpeg('-i', plain, ...options, coded);
  ffmpeg('-i', coded, '-f', 'f32le', '-ac', '1', '-ar', String(RATE_HZ), back);
  const bytes = readFileSync(back);
  return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
}

interface Read {
  readonly kept: number;
  readonly recorder: RecorderFault | undefined;
  readonly score: RoundScore;
}

function read(round: CodecRound, sound: Float32Array): Read {
  const taps = splitTaps(sound, RATE_HZ).flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));
  const { modes, recorder } = fitRound([taps]);
  const singles = modes.filter(({ resolution }) => resolution === 'single');
  return { kept: taps.length, recorder, score: scoreOf(round, singles) };
}

const HEAD = [
  'file',
  'taps kept',
  'modes',
  'found %, spurious a round',
  'errors f, ln Q',
  'holds f, Q %',
  'gain control, suppression, lossy coding told %',
];

/**
 * Prints the table, Markdown.
 * @param firstSeed seeds from 840 million on choose, those from 841 million on judge
 */
export function codecFigures(rounds: number, firstSeed = 841_000_000): void {
  if (spawnSync('ffmpeg', ['-version'], { stdio: 'ignore' }).status !== 0) {
    console.log('Left out: the ffmpeg program, which has the encoders, is not installed.');
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'codecs-'));
  try {
    const made = Array.from({ length: rounds }, (_, i) => codecRound(firstSeed + i));
    console.log(`| ${HEAD.join(' | ')} |`);
    console.log(`|${' --- |'.repeat(HEAD.length)}`);
    for (const one of [undefined, ...CODECS]) {
      const reads = made.map((round) =>
        read(round, one === undefined ? round.sound : through(one, round.sound, folder)),
      );
      const scores = reads.map(({ score }) => score);
      const toldOf = (fault: RecorderFault): string =>
        ((100 * reads.filter(({ recorder }) => recorder === fault).length) / rounds).toFixed(0);
      const cells = [
        one?.name ?? 'as it was',
        `${reads.reduce((sum, { kept }) => sum + kept, 0)} of ${TAPS * rounds}`,
        asked(scores),
        foundAndSpurious(scores),
        errors(scores),
        holds(scores),
        RECORDER_FAULTS.map(toldOf).join(', '),
      ];
      console.log(`| ${cells.join(' | ')} |`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [rounds = '12', firstSeed] = process.argv.slice(2);
  codecFigures(Number(rounds), firstSeed === undefined ? undefined : Number(firstSeed));
}
