// The bench's analysis from a shell: `npm run --silent analyse -- FILE... [--json]`. Taps of one file count as one hold.
import { readFileSync } from 'node:fs';
import { splitTaps } from '../signal/listener.ts';
import { fitRound } from '../signal/round.ts';
import type { Refusal, RoundFit, TapVerdict } from '../signal/tap.ts';
import { loudestChannel, type NoAudio, readWav } from '../signal/wav.ts';

const NOT_AUDIO: Record<NoAudio['because'], string> = {
  'not-wav': 'is not a WAV file (from a shell only WAV is read; the page opens whatever the browser can decode)',
  'no-format': 'is a WAV file without its format chunk',
  'unknown-encoding': 'holds a kind of sound other than PCM of 8 to 32 bits or float of 32 or 64 bits',
  'bad-format': 'is a WAV file whose format contradicts itself',
  'no-data': 'is a WAV file without sound in it',
  'too-long': 'is longer than 2^28 samples',
};

/** A file that cannot be analysed, with the one sentence to print. */
class Unreadable extends Error {}

function analyse(file: string) {
  const audio = readWav(bytesOf(file));
  if (audio.kind === 'refused') throw new Unreadable(`${file} ${NOT_AUDIO[audio.because]}.`);
  if (audio.sampleRateHz < 8000 || audio.sampleRateHz > 192_000) {
    throw new Unreadable(`${file} was taken at ${audio.sampleRateHz} Hz; 8000 to 192000 Hz can be analysed.`);
  }
  const verdicts = splitTaps(loudestChannel(audio.channels), audio.sampleRateHz);
  const taps = verdicts.flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));
  const modes = taps.length === 0 ? [] : modesOf(fitRound([taps]));
  return { file, sampleRateHz: audio.sampleRateHz, taps: verdicts.map(tapRow), modes };
}

function bytesOf(file: string): Uint8Array {
  try {
    return readFileSync(file);
  } catch {
    throw new Unreadable(`${file} cannot be read.`);
  }
}

function tapRow(verdict: TapVerdict) {
  const accepted = verdict.kind === 'accepted';
  return { timeS: verdict.timeS, accepted, reason: accepted ? null : reasonOf(verdict.refusal) };
}

/** `not-a-tap: speech`, else the reason alone. */
function reasonOf(refusal: Refusal): string {
  return refusal.because === 'not-a-tap' ? `not-a-tap: ${refusal.soundsLike}` : refusal.because;
}

/** Decay time by 60 dB: T60 = 3 ln(10) Q / (pi f), since the amplitude falls as exp(-pi f t / Q). */
function modesOf(fit: RoundFit) {
  return fit.modes.map(({ frequencyHz, q, levelDb }) => ({
    frequencyHz: frequencyHz.value,
    frequencyStdHz: frequencyHz.sigma,
    q: q.value,
    qStd: q.sigma,
    decayTimeS: (3 * Math.LN10 * q.value) / (Math.PI * frequencyHz.value),
    levelDb,
  }));
}

function inWords(result: ReturnType<typeof analyse>): string {
  const accepted = result.taps.filter((tap) => tap.accepted).length;
  const lines = [`${result.file}: ${accepted} of ${result.taps.length} sounds taken as taps`];
  for (const tap of result.taps) {
    if (!tap.accepted) lines.push(`  at ${tap.timeS.toFixed(3)} s refused: ${tap.reason}`);
  }
  for (const mode of result.modes) {
    const frequency = `${mode.frequencyHz.toFixed(2)} Hz ± ${mode.frequencyStdHz.toFixed(2)}`;
    const loss = `Q ${mode.q.toFixed(1)} ± ${mode.qStd.toFixed(1)}`;
    lines.push(`  ${frequency}, ${loss}, T60 ${mode.decayTimeS.toFixed(3)} s, ${mode.levelDb.toFixed(1)} dB`);
  }
  return lines.join('\n');
}

const words = process.argv.slice(2);
const files = words.filter((word) => word !== '--json');
try {
  if (files.length === 0)
    throw new Unreadable('Name one or more WAV files: npm run --silent analyse -- FILE... [--json]');
  for (const file of files) {
    const result = analyse(file);
    console.log(words.includes('--json') ? JSON.stringify(result) : inWords(result));
  }
} catch (error) {
  if (!(error instanceof Unreadable)) throw error;
  console.error(error.message);
  process.exitCode = 2;
}
