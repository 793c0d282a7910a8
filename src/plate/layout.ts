// Where scale length puts things on the top: frets, saddle line and bridge.
import type { Point } from './outline.ts';

/**
 * Distance of a fret from the nut, mm: X_n = L (1 - 2^(-n/12)).
 * Source: equal temperament; constant 17.817 = 1 / (1 - 2^(-1/12)) as printed in lutherie tables.
 * @throws RangeError if the scale length is not positive
 */
export function fretFromNutMm(scaleLengthMm: number, fret: number): number {
  if (!(scaleLengthMm > 0)) throw new RangeError(`fretFromNutMm: scale length ${scaleLengthMm} mm, need it positive`);
  return scaleLengthMm * (1 - 2 ** (-fret / 12));
}

/** What decides where the saddle comes. */
export interface ScaleLayout {
  readonly scaleLengthMm: number;
  /** Fret at which the neck meets the body, 12 or 14 for most. */
  readonly joinFret: number;
  /** Where the neck meets the body, x on the top, mm. */
  readonly joinXMm: number;
  /** Added to the scale at the outer treble and bass strings, mm (common practice on steel strings: 2 and 5). */
  readonly compensationTrebleMm: number;
  readonly compensationBassMm: number;
  /** Distance between the outer strings at the saddle, mm. */
  readonly stringSpreadMm: number;
  /** Which side of the centre line is treble: +1 for a right-handed top (outline.ts), -1 for its mirror image. */
  readonly trebleSide?: 1 | -1;
}

/** The saddle line from its treble to its bass end, mm. */
export function saddleLine(layout: ScaleLayout): readonly [treble: Point, bass: Point] {
  const { scaleLengthMm, joinFret, joinXMm, stringSpreadMm } = layout;
  const beyondJoin = scaleLengthMm - fretFromNutMm(scaleLengthMm, joinFret);
  const side = layout.trebleSide ?? 1;
  return [
    [joinXMm - beyondJoin - layout.compensationTrebleMm, (side * stringSpreadMm) / 2],
    [joinXMm - beyondJoin - layout.compensationBassMm, (-side * stringSpreadMm) / 2],
  ];
}

/**
 * A bridge's rectangle around its saddle, mm.
 * @param aheadMm  wood between saddle and front edge (toward the soundhole)
 * @param depthMm  size along the strings
 * @param widthMm  size across the strings
 */
export function bridgePolygon(layout: ScaleLayout, aheadMm: number, depthMm: number, widthMm: number): Point[] {
  const [[trebleX], [bassX]] = saddleLine(layout);
  const front = (trebleX + bassX) / 2 + aheadMm;
  return [
    [front - depthMm, -widthMm / 2],
    [front, -widthMm / 2],
    [front, widthMm / 2],
    [front - depthMm, widthMm / 2],
  ];
}
