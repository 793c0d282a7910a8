// Runs the long computations away from the page. It holds nothing but meshes and modes it can make again: the page may end
// it at any moment.
import { demoTaps } from '../demo/demo-sound.ts';
import { stageShapes } from '../forecast/stage-shapes.ts';
import { strungAnswer } from '../forecast/strung.ts';
import { tapShapes } from '../forecast/tap-shapes.ts';
import { topAdvice } from '../forecast/top-advice.ts';
import { topAgreement } from '../forecast/top-agreement.ts';
import { topModes } from '../forecast/top-modes.ts';
import { topShapes } from '../forecast/top-shapes.ts';
import type { PlateMode, PreparedPlate } from '../plate/plate-modes.ts';
import { rememberingPrepare } from '../plate/prepared-plates.ts';
import { writeArchive, writeTexts } from '../record/archive.ts';
import { readIncomingFile } from '../record/incoming-file.ts';
import { importOutline } from '../record/plan-import.ts';
import { averagePowerSpectrum } from '../signal/average-spectrum.ts';
import { averageSpectrum } from '../signal/filter/spectrum.ts';
import { fitRound } from '../signal/round.ts';
import { roomPoles } from '../signal/tell/room-poles.ts';
import { readBoard } from '../wood/board-constants.ts';
import { holdGuides } from '../wood/hold-guide.ts';
import { assignPeaks } from '../wood/peak-assignment.ts';
import { modesAgainstThickness } from '../wood/thickness.ts';
import type { Reply, Request, Work, WorkKind } from './messages.ts';
import { warmUp } from './warm-up.ts';

const reply = (message: Reply): void =>
  self.postMessage(message, { transfer: message.kind === 'answer' ? handedOver(message.answer) : [] });
const prepare = rememberingPrepare();
const known = new WeakMap<PreparedPlate, readonly PlateMode[]>();
const onProgress = (fraction: number): void => reply({ kind: 'progress', fraction });

/** What may cross without being copied: sounds of a file that was read, and an archive that was written. */
function handedOver(answer: Work[WorkKind]['answer']): ArrayBufferLike[] {
  if (answer instanceof Uint8Array) return [answer.buffer];
  if (answer === null || !('bundles' in answer)) return [];
  return [...new Set(answer.bundles.flatMap(({ taps }) => [...taps.values()].map(({ samples }) => samples.buffer)))];
}

const workers: { readonly [K in WorkKind]: (ask: Work[K]['ask']) => Work[K]['answer'] } = {
  'warm-up': () => {
    warmUp();
    return null;
  },
  'fit-round': ({ holds, ...options }) => fitRound(holds, { ...options, onProgress }),
  'room-poles': ({ clap }) => roomPoles(clap),
  'average-spectrum': ({ taps }) => averageSpectrum(taps),
  'read-board': ({ given, start }) => readBoard(given, start),
  'name-peaks': ({ board, heard, start }) => assignPeaks(board, heard, start),
  'hold-guides': ({ size, elastic, densityKgM3 }) => holdGuides(size, elastic, densityKgM3),
  'modes-against-thickness': ({ plan, wood, thicknessesMm, shearRatios }) =>
    modesAgainstThickness(plan, wood, thicknessesMm, shearRatios),
  'top-modes': (question) => topModes(question, onProgress, prepare, known),
  'top-strung': (top) => strungAnswer(prepare(top.plate), top) ?? null,
  'top-shapes': ({ plate, count }) => topShapes(plate, count, onProgress),
  'stage-shapes': (plates) => stageShapes(plates, onProgress, prepare),
  'average-power-spectrum': ({ taps }) => averagePowerSpectrum(taps),
  'top-agreement': ({ steps, parameters }) => topAgreement(steps, parameters, onProgress, prepare),
  'read-file': ({ bytes, name, atIso }) => readIncomingFile(bytes, name, atIso),
  'read-outline': ({ name, text }) => importOutline(name, text),
  'write-archive': ({ bundles, kept }) => writeArchive(bundles, kept),
  'write-texts': ({ texts }) => writeTexts(texts),
  'demo-taps': ({ round, cuts }) => demoTaps(round, cuts),
  'tap-shapes': (question) => tapShapes(question, onProgress, prepare),
  'top-advice': (question) => topAdvice(question, onProgress, prepare),
};

const answered = <K extends WorkKind>(kind: K, ask: Work[K]['ask']): Work[K]['answer'] => workers[kind](ask);

self.onmessage = (event: MessageEvent<Request>) => {
  try {
    reply({ kind: 'answer', answer: answered(event.data.kind, event.data.ask) });
  } catch (cause) {
    reply({ kind: 'failed', message: cause instanceof Error ? cause.message : String(cause) });
  }
};
