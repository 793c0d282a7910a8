// `npm run analyse -- FILE... [--json]`: the modes of recorded taps, by the same code as the page.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { loudestChannel, readWav } from '../files/wav.ts';
import { splitTaps } from '../signal/hear/listener.ts';
import { fitRound } from '../signal/round.ts';
import type { Mode, TapVerdict } from '../signal/tap.ts';

/** Time for a mode to fall by 60 dB, s: ln(1000) Q / (pi f). Source: definition of T60 and Q, e.g. ISO 3382-1. */
const decayTimeS = (mode: Mode): number => (Math.log(1000) * mode.q.value) / (Math.PI * mode.frequencyHz.value);

interface Analysis {
  readonly file: string;
  readonly sampleRateHz: number;
  readonly taps: readonly { readonly timeS: number; readonly accepted: boolean; readonly reason: string | null }[];
  readonly modes: readonly {
    readonly frequencyHz: number;
    readonly frequencyStdHz: number;
    readonly q: number;
    readonly qStd: number;
    readonly decayTimeS: number;
    readonly levelDb: number;
  }[];
}

function fail(sentence: string): never {
  console.error(sentence);
  process.exit(2);
}

function bytesOf(file: string): Uint8Array {
  try {
    return readFileSync(file);
  } catch {
    // Missing, a folder, or not readable: for the person it is the same.
    return fail(`"${file}" cannot be opened.`);
  }
}

function reasonOf(verdict: TapVerdict): string | null {
  if (verdict.kind === 'accepted') return null;
  const { refusal } = verdict;
  return refusal.because === 'not-a-tap' ? `not-a-tap: ${refusal.soundsLike}` : refusal.because;
}

function analyse(file: string): Analysis {
  const audio = readWav(bytesOf(file));
  if (audio.kind === 'refused')
    fail(`"${path.basename(file)}" is not a sound that can be read here: only WAV is (${audio.because}).`);
  const { sampleRateHz } = audio;
  if (sampleRateHz < 8000 || sampleRateHz > 192_000)
    fail(`"${path.basename(file)}" has a sampling rate of ${sampleRateHz} Hz; 8000 to 192000 can be read.`);
  const verdicts = splitTaps(loudestChannel(audio.channels), sampleRateHz);
  const taps = verdicts.flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));
  const { modes } = fitRound([taps]);
  return {
    file,
    sampleRateHz,
    taps: verdicts.map((verdict) => ({
      timeS: verdict.timeS,
      accepted: verdict.kind === 'accepted',
      reason: reasonOf(verdict),
    })),
    modes: modes.map((mode) => ({
      frequencyHz: mode.frequencyHz.value,
      frequencyStdHz: mode.frequencyHz.sigma,
      q: mode.q.value,
      qStd: mode.q.sigma,
      decayTimeS: decayTimeS(mode),
      levelDb: mode.levelDb,
    })),
  };
}

function show(analysis: Analysis): void {
  const kept = analysis.taps.filter((tap) => tap.accepted).length;
  console.log(`${analysis.file}: ${kept} of ${analysis.taps.length} sounds kept as taps, ${analysis.sampleRateHz} Hz`);
  for (const tap of analysis.taps)
    if (!tap.accepted) console.log(`  refused at ${tap.timeS.toFixed(2)} s: ${tap.reason}`);
  console.log('  frequency Hz   sigma      Q   sigma   T60 s  level dB');
  for (const mode of analysis.modes)
    console.log(
      `  ${mode.frequencyHz.toFixed(2).padStart(12)} ${mode.frequencyStdHz.toFixed(3).padStart(7)} ${mode.q.toFixed(1).padStart(6)} ${mode.qStd.toFixed(2).padStart(7)} ${mode.decayTimeS.toFixed(2).padStart(7)} ${mode.levelDb.toFixed(1).padStart(9)}`,
    );
}

const given = process.argv.slice(2);
const files = given.filter((word) => !word.startsWith('--'));
if (files.length === 0) fail('Name one or more WAV files: npm run --silent analyse -- taps.wav [--json]');
for (const file of files) {
  const analysis = analyse(file);
  if (given.includes('--json')) console.log(JSON.stringify(analysis));
  else show(analysis);
}
