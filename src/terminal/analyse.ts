// `npm run analyse -- FILE... [--round] [--json]`: the modes of recorded taps, by the same code as the page.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { loudestChannel, readWav } from '../files/wav.ts';
import { isMeasured } from '../quantity/estimate.ts';
import { splitTaps } from '../signal/hear/listener.ts';
import { fitRound } from '../signal/round.ts';
import {
  isTapRate,
  knownModes,
  leastRateHz,
  type Mode,
  mostRateHz,
  type RecorderFault,
  type RoundFit,
  type Tap,
  type TapVerdict,
} from '../signal/tap.ts';

const HELP = `npm run --silent analyse -- FILE.wav... [--round] [--json]

Reads recorded taps and tells the modes of the piece, each file by itself.

  --round   the files are holds of one round: the piece picked up anew for each. One answer, whose ± holds the scatter
            of holding
  --json    one JSON object a line, for each file or for the round
  --help    this text

JSON: "file" or "files"; "sampleRateHz"; "taps" (timeS, accepted, reason); "modes" in ascending order (frequencyHz, q,
decayTimeS to -60 dB, levelDb re full scale; ...Std: half the 95 % interval over 1.96; resolution "pair": two modes that
could not be told apart; ofPiece: probability that it is the piece's and not the room's, null where no room answers or with
fewer than three taps); "notes": setAside (taps that disagree with the others), disagreement
(holds whose modes lie "apart", a part of their frequency; "file" the one that is left out, null where none can be told), roomAnswerDb (the room over the piece, where it is
loud), isRungOver (the tap before still rang before every tap), scatterKnown (false: of one hold, the scatter of holding is
not in the ±), recorder (what it did to the sound: through a gain or a suppressor no q holds, through a lossy coder faint modes
may be its work), nothingBecause (why there are no modes). q, qStd and decayTimeS are null where the q is not known to within
itself.

What cannot be read is said on standard error; the others are answered, and the exit code is 2.`;

/** Time for a mode to fall by 60 dB, s: ln(1000) Q / (pi f). Source: definition of T60 and Q, e.g. ISO 3382-1. */
const decayTimeS = (mode: Mode): number => (Math.log(1000) * mode.q.value) / (Math.PI * mode.frequencyHz.value);

/** A file that cannot be read, in a sentence. */
class Unreadable extends Error {
  override readonly name = 'Unreadable';
}

interface Recording {
  readonly file: string;
  readonly sampleRateHz: number;
  readonly isSilent: boolean;
  readonly verdicts: readonly TapVerdict[];
}

interface Analysis {
  readonly recordings: readonly Recording[];
  readonly fit: RoundFit;
}

const tapsOf = ({ verdicts }: Recording): readonly Tap[] =>
  verdicts.flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));

function bytesOf(file: string): Uint8Array {
  try {
    return readFileSync(file);
  } catch {
    // Missing, a folder, or not readable: for the person it is the same.
    throw new Unreadable(`"${file}" cannot be opened.`);
  }
}

function read(file: string): Recording {
  const audio = readWav(bytesOf(file));
  const name = path.basename(file);
  if (audio.kind === 'refused')
    throw new Unreadable(`"${name}" is not a sound that can be read here: only WAV is (${audio.because}).`);
  const { sampleRateHz } = audio;
  if (!isTapRate(sampleRateHz))
    throw new Unreadable(
      `"${name}" has a sampling rate of ${sampleRateHz} Hz; ${leastRateHz} to ${mostRateHz} can be read.`,
    );
  const samples = loudestChannel(audio.channels);
  const isSilent = samples.every((sample) => sample === samples[0]);
  return { file, sampleRateHz, isSilent, verdicts: splitTaps(samples, sampleRateHz) };
}

function reasonOf(verdict: TapVerdict): string | null {
  if (verdict.kind === 'accepted') return null;
  const { refusal } = verdict;
  return refusal.because === 'not-a-tap' ? `not-a-tap: ${refusal.soundsLike}` : refusal.because;
}

const analysed = (recordings: readonly Recording[]): Analysis => ({
  recordings,
  fit: fitRound(recordings.map(tapsOf)),
});

/** Why there are no modes, where there are none. */
function nothingBecause({ recordings, fit }: Analysis): string | null {
  if (fit.modes.length > 0) return null;
  const verdicts = recordings.flatMap((recording) => recording.verdicts);
  if (recordings.every(({ isSilent }) => isSilent)) return 'the recording holds no sound at all';
  if (verdicts.length === 0) return 'no sound begins in it that stands out of what lies before it';
  const reasons = new Set(verdicts.map(reasonOf));
  if (!reasons.has(null)) return `no sound was kept as a tap (${[...reasons].join(', ')})`;
  return 'what was struck does not ring clear of the noise';
}

const recorderWords: Readonly<Record<RecorderFault, string>> = {
  'gain-control': 'the recorder turned itself down at each tap and up again: no Q can be read, frequencies hold',
  'noise-suppression': 'the recorder took away what it held for noise: no Q can be read, frequencies hold',
  'lossy-coding': 'a lossy coder wrote noise of its own: faint modes may be its work; frequencies and Q hold',
};

/** Where a tap of the fit lies in its file. */
function placed({ recordings }: Analysis, { hold, tap }: { readonly hold: number; readonly tap: number }) {
  const { file, verdicts } = recordings[hold]!;
  return { file, timeS: verdicts.filter(({ kind }) => kind === 'accepted')[tap]!.timeS };
}

function asJson(analysis: Analysis, isRound: boolean): string {
  const { recordings, fit } = analysis;
  const ofFile = (file: string) => (isRound ? { file } : {});
  const rates = new Set(recordings.map(({ sampleRateHz }) => sampleRateHz));
  return JSON.stringify({
    ...(isRound ? { files: recordings.map(({ file }) => file) } : { file: recordings[0]!.file }),
    sampleRateHz: rates.size === 1 ? [...rates][0] : recordings.map(({ sampleRateHz }) => sampleRateHz),
    taps: recordings.flatMap(({ file, verdicts }) =>
      verdicts.map((verdict) => ({
        ...ofFile(file),
        timeS: verdict.timeS,
        accepted: verdict.kind === 'accepted',
        reason: reasonOf(verdict),
      })),
    ),
    modes: knownModes(fit).map((mode) => ({
      frequencyHz: mode.frequencyHz.value,
      frequencyStdHz: mode.frequencyHz.sigma,
      q: isMeasured(mode.q) ? mode.q.value : null,
      qStd: isMeasured(mode.q) ? mode.q.sigma : null,
      decayTimeS: isMeasured(mode.q) ? decayTimeS(mode) : null,
      levelDb: mode.levelDb,
      resolution: mode.resolution,
      ofPiece: mode.ofPiece ?? null,
    })),
    notes: {
      setAside: fit.setAside.map((place) => {
        const { file, timeS } = placed(analysis, place);
        return { ...ofFile(file), timeS };
      }),
      disagreement: disagreementOf(analysis),
      roomAnswerDb: fit.roomAnswerDb ?? null,
      isRungOver: fit.isRungOver ?? false,
      scatterKnown: fit.scatterKnown,
      recorder: fit.recorder ?? null,
      nothingBecause: nothingBecause(analysis),
    },
  });
}

function disagreementOf({ recordings, fit: { disagreement } }: Analysis) {
  if (disagreement === undefined) return null;
  const { apart, hold } = disagreement;
  return { apart, file: hold === undefined ? null : recordings[hold]!.file };
}

function asText(analysis: Analysis): string {
  const { recordings, fit } = analysis;
  const lines: string[] = [];
  for (const { file, sampleRateHz, verdicts } of recordings) {
    const kept = verdicts.filter((verdict) => verdict.kind === 'accepted').length;
    lines.push(`${file}: ${kept} of ${verdicts.length} sounds kept as taps, ${sampleRateHz} Hz`);
    for (const verdict of verdicts)
      if (verdict.kind === 'refused') lines.push(`  refused at ${verdict.timeS.toFixed(2)} s: ${reasonOf(verdict)}`);
  }
  for (const place of fit.setAside) {
    const { file, timeS } = placed(analysis, place);
    lines.push(`  set aside, it disagrees with the others: ${file} at ${timeS.toFixed(2)} s`);
  }
  const nothing = nothingBecause(analysis);
  if (nothing !== null) return [...lines, `  no modes: ${nothing}`].join('\n');
  if (fit.recorder !== undefined) lines.push(`  ${recorderWords[fit.recorder]}`);
  if (fit.roomAnswerDb !== undefined)
    lines.push(`  the room is loud, ${fit.roomAnswerDb.toFixed(0)} dB against the piece: come nearer`);
  if (fit.disagreement !== undefined)
    lines.push(`  the holds disagree: their modes lie ${(100 * fit.disagreement.apart).toFixed(1)} % apart`);
  if (fit.isRungOver) lines.push('  the tap before still rang before every tap: let it ring out, three seconds more');
  if (!fit.scatterKnown) lines.push('  one hold: the scatter of holding is not in the sigmas');
  lines.push('  frequency Hz   sigma      Q   sigma   T60 s  level dB');
  for (const mode of knownModes(fit)) {
    const ring = isMeasured(mode.q)
      ? [mode.q.value.toFixed(1), mode.q.sigma.toFixed(2), decayTimeS(mode).toFixed(2)]
      : ['-', '-', '-'];
    const figures = [
      mode.frequencyHz.value.toFixed(2).padStart(12),
      mode.frequencyHz.sigma.toFixed(3).padStart(7),
      ...ring.map((text, k) => text.padStart([6, 7, 7][k]!)),
      mode.levelDb.toFixed(1).padStart(9),
    ];
    const doubt = mode.ofPiece === undefined ? '' : `  the piece's with ${(100 * mode.ofPiece).toFixed(0)} %`;
    const pair = mode.resolution === 'pair' ? '  two modes in one' : '';
    lines.push(`  ${figures.join(' ')}${pair}${doubt}`);
  }
  return lines.join('\n');
}

function refuse(sentence: string): void {
  console.error(sentence);
  process.exitCode = 2;
}

function readOrRefuse(file: string): Recording[] {
  try {
    return [read(file)];
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    refuse(error.message);
    return [];
  }
}

function main(): void {
  const { values, positionals: files } = parseArgs({
    allowPositionals: true,
    options: {
      round: { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) {
    console.log(HELP);
    return;
  }
  if (files.length === 0)
    refuse('Name one or more WAV files: npm run --silent analyse -- taps.wav [--json]. More: --help.');
  const show = (recordings: readonly Recording[]) => {
    const analysis = analysed(recordings);
    console.log(values.json ? asJson(analysis, values.round) : asText(analysis));
  };
  if (values.round) {
    const recordings = files.flatMap(readOrRefuse);
    if (recordings.length > 0) show(recordings);
  } else
    for (const file of files) {
      const recordings = readOrRefuse(file);
      if (recordings.length > 0) show(recordings);
    }
}

try {
  main();
} catch (error) {
  // parseArgs says in words which option it does not know.
  if (!(error instanceof TypeError && 'code' in error && `${error.code}`.startsWith('ERR_PARSE_ARGS'))) throw error;
  refuse(`${error.message.split('. ')[0]}. See --help.`);
}
