// `npm run demo`: makes the demo's sounds, their truth and the modes read from them, the same bytes every time.
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { boardTapsOf, keptReading, keptStickReading, modesOf, sizesOf, startOf } from '../compare/piece-reading.ts';
import { demoRounds, demoWood, woodIso } from '../demo/demo-record.ts';
import { demoRateHz, demoSound } from '../demo/demo-sound.ts';
import { type HeardRound, hearTaps, holdsOf } from '../demo/demo-taps.ts';
import { readWav } from '../files/wav.ts';
import { writeWav16 } from '../files/wav-write.ts';
import type { Piece } from '../record/record.ts';
import { fitRound } from '../signal/round.ts';
import { readBoard } from '../wood/board-constants.ts';
import { stickConstants } from '../wood/stick.ts';

const folder = path.resolve(import.meta.dirname, '../../reference-audio/demo');
mkdirSync(folder, { recursive: true });
const heard: Record<string, HeardRound> = {};
for (const round of demoRounds) {
  const { samples, taps } = demoSound(round);
  const wav = writeWav16([samples], demoRateHz);
  writeFileSync(path.join(folder, `${round.file}.wav`), wav);
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
  // The modes are read from the file, as the page would read them again.
  const audio = readWav(wav);
  const recorded = audio.kind === 'audio' ? audio.channels[0] : undefined;
  if (recorded === undefined) throw new Error(`make-demo: ${round.file}.wav cannot be read again`);
  const cuts = hearTaps(recorded, demoRateHz, truth);
  const fit = fitRound(holdsOf(recorded, demoRateHz, cuts));
  heard[round.file] = { sampleRateHz: demoRateHz, taps: cuts, fit };
  console.log(`${round.file}: ${fit.modes.map((mode) => mode.frequencyHz.value.toFixed(2)).join(', ')} Hz`);
}
writeFileSync(path.join(folder, 'heard.json'), `${JSON.stringify(heard)}\n`);

// What the maker kept of the wood. One stick is left unread, to be tried.
const readings: Record<string, NonNullable<Piece['reading']>> = {};
for (const piece of demoWood(new Map(Object.entries(heard)))) {
  const reading = piece.id === 'demo-stick-2' ? undefined : readPiece(piece);
  if (reading !== undefined) readings[piece.id] = reading;
}
writeFileSync(path.join(folder, 'readings.json'), `${JSON.stringify(readings)}\n`);

/** The reading that the Wood view would keep. */
function readPiece(piece: Piece): Piece['reading'] {
  const bending = modesOf(piece)['long-grain-bending'];
  const stick = sizesOf(piece);
  if (piece.kind === 'brace-stock')
    return bending && stick && keptStickReading(piece, stickConstants(stick, bending.frequencyHz, undefined), woodIso);
  const given = boardTapsOf(piece);
  const read = given && readBoard(given, startOf(piece));
  return read?.kind === 'read' ? keptReading(piece, read.constants, woodIso) : undefined;
}
