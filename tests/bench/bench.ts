// `npm run bench [-- NAME ...]`: accuracy, speed and size, printed with their spread. Nothing here can fail a test.
// Without a name the quick parts run; the Monte-Carlo parts are named, since they take minutes to hours.
import { ablationFigures } from './ablation.ts';
import { aimFigures } from './aims.ts';
import { besideFigures } from './beside.ts';
import { benchBox } from './box.ts';
import { closingReport } from './closing.ts';
import { codecFigures } from './codecs.ts';
import { detectionTable, falseAlarmTable } from './detection.ts';
import { endurance } from './endurance.ts';
import { halfTopFigures } from './half-tops.ts';
import { libraryTimes } from './library.ts';
import { lighthouseFigures } from './lighthouse.ts';
import { liveTimes } from './live.ts';
import { modeFigures } from './modes.ts';
import { oddHoldFigures } from './odd-hold.ts';
import { outlineTimes } from './outline.ts';
import { pageSizes, savingTimes } from './page.ts';
import { pairingFigures } from './pairing.ts';
import { passFigures } from './passes.ts';
import { plateFigures } from './plate.ts';
import { plateTimes } from './plate-times.ts';
import { randomPlateFigures } from './random-plates.ts';
import { recordingFigures } from './recordings.ts';
import { robustnessFigures } from './robustness.ts';
import { roomFigures } from './rooms.ts';
import { roundTimes } from './round-time.ts';
import { shapeFigures } from './shapes.ts';
import { shapeSoundFigures } from './shapes-sound.ts';
import { solidTrialFigures } from './solid-trials.ts';
import { solidFigures } from './solids.ts';
import { woodFigures } from './wood.ts';

type Part = () => Promise<readonly string[]> | readonly string[];

const quick: Readonly<Record<string, Part>> = {
  round: roundTimes,
  size: pageSizes,
  save: savingTimes,
  outline: outlineTimes,
};
const long: Readonly<Record<string, Part>> = {
  closing: () => [closingReport(2111)],
  aims: () => [...aimFigures(100, 2107), ...aimFigures(60, 2108)],
  'aim-shares': () => aimFigures(60, 2101, 'shares'),
  library: libraryTimes,
  lighthouse: lighthouseFigures,
  live: liveTimes,
  endurance: () => endurance(),
  modes: () => {
    modeFigures(1000);
    return [];
  },
  detection: () => detectionTable().map(({ what, result }) => `${what.padEnd(36)} ${result}`),
  alarms: () => falseAlarmTable().map(({ what, result }) => `${what.padEnd(36)} ${result}`),
  robustness: () => robustnessFigures(40),
  random: () => {
    randomPlateFigures(200);
    return [];
  },
  rooms: () => {
    roomFigures(12);
    return [];
  },
  beside: () => {
    besideFigures(8);
    return [];
  },
  'half-tops': () => {
    halfTopFigures(4);
    return [];
  },
  'odd-hold': () => [...oddHoldFigures(100)],
  recordings: recordingFigures,
  codecs: () => {
    codecFigures(12);
    return [];
  },
  stages: async () => {
    await ablationFigures();
    return [];
  },
  plate: () => {
    plateFigures(200);
    return [];
  },
  solids: () => [...solidFigures()],
  'solid-trials': () => {
    for (const line of solidTrialFigures(60, 881_000_000)) console.log(line);
    return [];
  },
  passes: () => {
    passFigures(400);
    return [];
  },
  pairing: () => {
    pairingFigures(16);
    return [];
  },
  shapes: () => {
    shapeFigures(8);
    return [];
  },
  'shapes-sound': () => {
    shapeSoundFigures(4);
    return [];
  },
  'plate-times': plateTimes,
  wood: () => woodFigures(400),
  box: () => {
    benchBox(4000);
    return [];
  },
};
const parts: Readonly<Record<string, Part>> = { ...quick, ...long };

const asked = process.argv.slice(2);
for (const name of asked.length > 0 ? asked : Object.keys(quick)) {
  const part = parts[name];
  if (part === undefined) {
    console.error(`There is no bench "${name}". There are: ${Object.keys(parts).join(', ')}.`);
    process.exit(2);
  }
  console.log(`\n== ${name}`);
  for (const line of await part()) console.log(line);
}
