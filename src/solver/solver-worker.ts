// Runs the long computations away from the page. It holds nothing but meshes and modes it can make again: the page may end
// it at any moment.
import { demoTaps } from '../demo/demo-sound.ts';
import { stageShapes } from '../forecast/stage-shapes.ts';
import { strungAnswer } from '../forecast/strung.ts';
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

function solve(request: Request): Work[WorkKind]['answer'] {
  switch (request.kind) {
    case 'warm-up':
      warmUp();
      return null;
    case 'fit-round':
      return fitRound(request.ask.holds, { roomPoles: request.ask.roomPoles ?? [], onProgress });
    case 'room-poles':
      return roomPoles(request.ask.clap);
    case 'average-spectrum':
      return averageSpectrum(request.ask.taps);
    case 'read-board':
      return readBoard(request.ask.given, request.ask.start);
    case 'name-peaks':
      return assignPeaks(request.ask.board, request.ask.heard, request.ask.start);
    case 'hold-guides':
      return holdGuides(request.ask.size, request.ask.elastic, request.ask.densityKgM3);
    case 'modes-against-thickness': {
      const { plan, wood, thicknessesMm, shearRatios } = request.ask;
      return modesAgainstThickness(plan, wood, thicknessesMm, shearRatios);
    }
    case 'top-modes':
      return topModes(request.ask, onProgress, prepare, known);
    case 'top-strung':
      return strungAnswer(prepare(request.ask.plate), request.ask) ?? null;
    case 'top-shapes':
      return topShapes(request.ask.plate, request.ask.count, onProgress);
    case 'stage-shapes':
      return stageShapes(request.ask, onProgress, prepare);
    case 'average-power-spectrum':
      return averagePowerSpectrum(request.ask.taps);
    case 'top-agreement':
      return topAgreement(request.ask.steps, request.ask.parameters, onProgress, prepare);
    case 'read-file':
      return readIncomingFile(request.ask.bytes, request.ask.name, request.ask.atIso);
    case 'read-outline':
      return importOutline(request.ask.name, request.ask.text);
    case 'write-archive':
      return writeArchive(request.ask.bundles, request.ask.kept);
    case 'write-texts':
      return writeTexts(request.ask.texts);
    case 'demo-taps':
      return demoTaps(request.ask.round, request.ask.cuts);
    case 'top-advice':
      return topAdvice(request.ask, onProgress, prepare);
  }
}

self.onmessage = (event: MessageEvent<Request>) => {
  try {
    reply({ kind: 'answer', answer: solve(event.data) });
  } catch (cause) {
    reply({ kind: 'failed', message: cause instanceof Error ? cause.message : String(cause) });
  }
};
