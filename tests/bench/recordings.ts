// The recordings of struck bars and blocks from outside beside their reference modes: how many are told.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { loudestChannel, readWav } from '../../src/files/wav.ts';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { splitTaps } from '../../src/signal/hear/listener.ts';
import { fitRound } from '../../src/signal/round.ts';

interface ReferenceMode {
  readonly f_hz: number;
  readonly u_hz: number;
  readonly level_dB: number;
  readonly Q: number | null;
}
/** Where the methods behind the reference do not agree on a Q, the width of a mode is taken from this one. */
const UNKNOWN_Q = 50;

/** Lines of a table, Markdown: a reference mode is told where a mode lies within half its bandwidth or holds it in its interval. */
export function recordingFigures(): readonly string[] {
  const folder = new URL('../../reference-audio/', import.meta.url);
  const lines = [
    '| recording | takes | reference modes told | in their interval | not told |',
    `|${' --- |'.repeat(5)}`,
  ];
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.json'))) {
    const name = file.replace('.json', '');
    const { reference } = JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as {
      reference: { modes?: readonly ReferenceMode[] };
    };
    const audio = readWav(readFileSync(new URL(`${name}.wav`, folder)));
    if (reference.modes === undefined || audio.kind !== 'audio') continue;
    const verdicts = splitTaps(loudestChannel(audio.channels), audio.sampleRateHz);
    const taps = verdicts.flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));
    const { modes } = fitRound([taps]);
    let [told, held] = [0, 0];
    const missed: string[] = [];
    for (const { f_hz, u_hz, level_dB, Q } of reference.modes) {
      const near = modes.toSorted(
        (a, b) => Math.abs(a.frequencyHz.value - f_hz) - Math.abs(b.frequencyHz.value - f_hz),
      )[0];
      const awayHz = near === undefined ? Number.POSITIVE_INFINITY : Math.abs(near.frequencyHz.value - f_hz);
      const isHeld = near !== undefined && awayHz < HALF_WIDTH_95 * Math.hypot(near.frequencyHz.sigma, u_hz);
      if (isHeld) held++;
      if (isHeld || awayHz < (0.5 * f_hz) / (Q ?? UNKNOWN_Q)) told++;
      else missed.push(`${f_hz.toFixed(0)} Hz (${level_dB.toFixed(1)} dB)`);
    }
    const cells = [
      name,
      `${taps.length} of ${verdicts.length}`,
      `${told} of ${reference.modes.length}`,
      held,
      missed.join(', '),
    ];
    lines.push(`| ${cells.join(' | ')} |`);
  }
  return lines;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) for (const line of recordingFigures()) console.log(line);
