// `npm run demo`: makes the demo's sounds, their truth and the modes read from them, the same bytes every time.
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { demoRounds } from '../demo/demo-record.ts';
import { demoRateHz, demoSound } from '../demo/demo-sound.ts';
import { demoHolds } from '../demo/demo-taps.ts';
import { fitRound } from '../signal/round.ts';
import { writeWav16 } from '../signal/wav-write.ts';

const folder = path.resolve(import.meta.dirname, '../../reference-audio/demo');
mkdirSync(folder, { recursive: true });
const fits: Record<string, unknown> = {};
for (const round of demoRounds) {
  const { samples, taps } = demoSound(round);
  writeFileSync(path.join(folder, `${round.file}.wav`), writeWav16([samples], demoRateHz));
  const truth = {
    note: 'Invented; made by src/demo.',
    sampleRateHz: demoRateHz,
    seed: round.seed,
    holdScatter: round.holdScatter,
    tapScatter: round.tapScatter,
    modes: round.modes,
    taps,
  };
  writeFileSync(path.join(folder, `${round.file}.truth.json`), `${JSON.stringify(truth, null, 1)}\n`);
  const fit = fitRound(demoHolds(samples, demoRateHz, truth).map((hold) => hold.map(({ tap }) => tap)));
  fits[round.file] = fit;
  console.log(`${round.file}: ${fit.modes.map((mode) => mode.frequencyHz.value.toFixed(2)).join(', ')} Hz`);
}
writeFileSync(path.join(folder, 'fits.json'), `${JSON.stringify(fits)}\n`);
