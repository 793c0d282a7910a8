// Pieces of wood to rows of the shelf's table and back.
import type { Estimate } from '../quantity/estimate.ts';
import type { Piece } from '../record/record.ts';
import type { ShelfRow } from '../record/shelf-csv.ts';
import { freshPiece } from '../record/wood-edit.ts';
import { importedMethod, moistureOfPiece } from './piece-reading.ts';

/** One piece as a row; what was not measured is null. */
export function rowOf(piece: Piece): ShelfRow {
  const { reading } = piece;
  const value = (given: Estimate | undefined) => given?.value ?? null;
  const sigma = (given: Estimate | undefined) => given?.sigma ?? null;
  return {
    id: piece.id,
    piece: piece.kind,
    species: piece.species,
    length_mm: value(piece.lengthMm),
    width_mm: value(piece.widthMm),
    thickness_mm: value(piece.thicknessMm),
    mass_g: value(piece.massG),
    moisture_percent: moistureOfPiece(piece) ?? null,
    density_kg_m3: value(reading?.densityKgM3),
    sigma_density_kg_m3: sigma(reading?.densityKgM3),
    e_long_gpa: value(reading?.eLongGpa),
    sigma_e_long_gpa: sigma(reading?.eLongGpa),
    e_cross_gpa: value(reading?.eCrossGpa),
    sigma_e_cross_gpa: sigma(reading?.eCrossGpa),
    g_lr_gpa: value(reading?.gGpa),
    sigma_g_lr_gpa: sigma(reading?.gGpa),
    q_long: value(reading?.qLong),
    q_cross: value(reading?.qCross),
    q_twist: value(reading?.qTwist),
    notes: piece.notes === '' ? piece.name : `${piece.name}: ${piece.notes}`,
  };
}

/** Spread of a size or mass that a table gives without one; one sigma, mm and g. */
export interface EntrySpread {
  readonly rulerMm: number;
  readonly caliperMm: number;
  readonly scaleG: number;
}

/**
 * A row as a piece of the shelf.
 * @param id    of the piece: the row's own only where it may stand for the piece of that id
 * @param known the piece of that id, whose rounds, photo and name are kept
 */
export function pieceOfRow(
  row: ShelfRow,
  id: string,
  known: Piece | undefined,
  spread: EntrySpread,
  atIso: string,
): Piece {
  const piece = known ?? freshPiece(id, row.piece, row.notes === '' ? row.id : row.notes, row.species);
  const amount = (key: string, value: number | null, sigma: number | null) =>
    value === null ? {} : { [key]: { value, sigma: sigma ?? 0 } };
  const constants = {
    ...amount('densityKgM3', row.density_kg_m3, row.sigma_density_kg_m3),
    ...amount('eLongGpa', row.e_long_gpa, row.sigma_e_long_gpa),
    ...amount('eCrossGpa', row.e_cross_gpa, row.sigma_e_cross_gpa),
    ...amount('gGpa', row.g_lr_gpa, row.sigma_g_lr_gpa),
    ...amount('qLong', row.q_long, 0),
    ...amount('qCross', row.q_cross, 0),
    ...amount('qTwist', row.q_twist, 0),
  };
  return {
    ...piece,
    kind: row.piece,
    species: row.species,
    ...amount('lengthMm', row.length_mm, piece.lengthMm?.sigma ?? spread.rulerMm),
    ...amount('widthMm', row.width_mm, piece.widthMm?.sigma ?? spread.rulerMm),
    ...amount('thicknessMm', row.thickness_mm, piece.thicknessMm?.sigma ?? spread.caliperMm),
    ...amount('massG', row.mass_g, piece.massG?.sigma ?? spread.scaleG),
    ...(row.moisture_percent === null ? {} : { moisturePercent: row.moisture_percent }),
    ...(Object.keys(constants).length === 0 ? {} : { reading: { method: importedMethod, atIso, ...constants } }),
  };
}
