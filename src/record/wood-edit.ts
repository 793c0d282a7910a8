// Edits of the pieces of wood of a record.

import { changeStep } from './edit.ts';
import type { ClimateNote, InstrumentRecord, Piece } from './record.ts';

/** A piece as it begins: nothing measured yet. */
export function freshPiece(id: string, kind: Piece['kind'], name: string, species: string): Piece {
  return { id, kind, name, species, climate: {}, notes: '', rounds: [], modes: [], caliper: [], deflections: [] };
}

/** The record with one more piece, or with the piece in the place of its earlier self. */
export function putPiece(record: InstrumentRecord, piece: Piece): InstrumentRecord {
  const pieces = record.pieces ?? [];
  return {
    ...record,
    pieces: pieces.some((known) => known.id === piece.id)
      ? pieces.map((known) => (known.id === piece.id ? piece : known))
      : [...pieces, piece],
  };
}

export function changePiece(
  record: InstrumentRecord,
  pieceId: string,
  change: (piece: Piece) => Piece,
): InstrumentRecord {
  return { ...record, pieces: (record.pieces ?? []).map((piece) => (piece.id === pieceId ? change(piece) : piece)) };
}

export function removePiece(record: InstrumentRecord, pieceId: string): InstrumentRecord {
  return { ...record, pieces: (record.pieces ?? []).filter((piece) => piece.id !== pieceId) };
}

/** The maker's word on which frequency is which mode; undefined takes it back. */
export function nameModeOfPiece(
  piece: Piece,
  kind: Piece['modes'][number]['id'],
  mode: Omit<Piece['modes'][number], 'id'> | undefined,
): Piece {
  const others = piece.modes.filter((known) => known.id !== kind);
  return { ...piece, modes: mode === undefined ? others : [...others, { ...mode, id: kind }] };
}

/** The air that something was glued in, kept with the step. */
export function stampGluing(record: InstrumentRecord, stepId: string, gluing: ClimateNote): InstrumentRecord {
  return changeStep(record, stepId, (step) => ({ ...step, gluing }));
}
