// Makes the demo's recordings anew: `npm run demo`. The same bytes come out on every machine.
import { mkdirSync, writeFileSync } from 'node:fs';
import { demoSteps } from '../demo/demo-instrument.ts';
import { DEMO_RATE_HZ, demoRecording } from '../demo/demo-recording.ts';
import { writeWav16 } from '../signal/wav-write.ts';

const FOLDER = new URL('../../reference-audio/demo/', import.meta.url);

mkdirSync(FOLDER, { recursive: true });
demoSteps.forEach((step, i) => {
  const name = `${String(i + 1).padStart(2, '0')}-${step.slug}`;
  const { samples, truth } = demoRecording(step, i + 1);
  const info = { INAM: `Demo: ${step.slug}`, ICMT: 'Synthetic taps of an invented guitar top' };
  const bytes = writeWav16([samples], DEMO_RATE_HZ, { info });
  writeFileSync(new URL(`${name}.wav`, FOLDER), bytes);
  writeFileSync(
    new URL(`${name}.truth.json`, FOLDER),
    `${JSON.stringify({ file: `${name}.wav`, ...truth }, null, 1)}\n`,
  );
  console.log(`${name}.wav  ${bytes.length} bytes`);
});
