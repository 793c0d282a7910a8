// A sheet to lay on the wood: lines and words in millimetres, y downward.
import type { Point } from '../plate/outline.ts';

export interface SheetLine {
  readonly layer: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** Where a text stands: its middle, and how far it is turned clockwise. */
export interface TextPlace {
  readonly at: Point;
  readonly angleDeg: number;
}

export interface SheetText extends TextPlace {
  readonly layer: string;
  readonly heightMm: number;
  readonly text: string;
  /** where it may stand, the best first */
  readonly places: readonly TextPlace[];
  /** the line that it names and may stand on */
  readonly on?: SheetLine;
}

/** A drawing with its top left corner at 0, 0. */
export interface Sheet {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly lines: readonly SheetLine[];
  readonly texts: readonly SheetText[];
}
