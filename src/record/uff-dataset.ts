// The datasets of the Universal File Format that leave and enter, as plain data. Modal-analysis programs have read this
// format for decades; what a tap gives fits a small part of it.
// Source of every field: UC-SDRL universal file records 15, 55, 58 (rev. 30-Jun-1999), 151, 164.

/** What a file is about (151). Texts of up to 80 characters; times as `uffTime` writes them. */
export interface UffHeader {
  readonly kind: 'header';
  readonly model: string;
  readonly description: string;
  readonly program: string;
  readonly createdAt: string;
  readonly savedAt: string;
  readonly writtenAt: string;
}

/** Units of the file (164): values divided by the factors are SI. */
export interface UffUnits {
  readonly kind: 'units';
  /** 1 = SI, metre and newton */
  readonly code: number;
  readonly description: string;
  /** 1 absolute, 2 relative */
  readonly temperatureMode: number;
  readonly lengthFactor: number;
  readonly forceFactor: number;
  readonly temperatureFactor: number;
  readonly temperatureOffset: number;
}

/** A place on the piece, in the units of the file. */
export interface UffNode {
  readonly node: number;
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Places on the piece (15). */
export interface UffNodes {
  readonly kind: 'nodes';
  readonly nodes: readonly UffNode[];
}

/** Where and in which direction something acts: 0 scalar, +-1 x, +-2 y, +-3 z. */
export interface UffPlace {
  readonly entity: string;
  readonly node: number;
  readonly direction: number;
}

/** What an axis shows. */
export interface UffAxis {
  /** 0 unknown, 1 general, 17 time, 18 frequency */
  readonly quantity: number;
  readonly lengthExponent: number;
  readonly forceExponent: number;
  readonly temperatureExponent: number;
  readonly label: string;
  readonly unit: string;
}

export const ordinateKinds = ['real-single', 'real-double', 'complex-single', 'complex-double'] as const;

/** A function of time or frequency at a place (58). */
export interface UffFunction {
  readonly kind: 'function';
  /** description, free, date and time, free, free */
  readonly lines: readonly [string, string, string, string, string];
  /** 0 general, 1 time response, 2 auto spectrum, 12 spectrum */
  readonly functionType: number;
  readonly functionId: number;
  readonly version: number;
  readonly loadCase: number;
  readonly response: UffPlace;
  readonly reference: UffPlace;
  readonly ordinateKind: (typeof ordinateKinds)[number];
  readonly abscissa:
    | { readonly kind: 'even'; readonly first: number; readonly increment: number }
    | { readonly kind: 'uneven'; readonly values: Float64Array };
  readonly zValue: number;
  /** abscissa, ordinate numerator, ordinate denominator, z axis */
  readonly axes: readonly [UffAxis, UffAxis, UffAxis, UffAxis];
  /** (n,), or real and imaginary part in turn, (2n,) */
  readonly values: Float64Array;
}

/** The shape of one real normal mode (55): movement of each node along x, y, z. */
export interface UffShape {
  readonly kind: 'shape';
  readonly lines: readonly [string, string, string, string, string];
  readonly loadCase: number;
  readonly mode: number;
  readonly frequencyHz: number;
  /** 0 where it is not known */
  readonly modalMass: number;
  /** viscous, as a part of the critical: 1 / (2 Q) */
  readonly dampingRatio: number;
  /** hysteretic; 0 where it is not used */
  readonly hystereticRatio: number;
  readonly nodes: readonly UffNode[];
}

export type UffDataset = UffHeader | UffUnits | UffNodes | UffFunction | UffShape;

export const unusedAxis: UffAxis = {
  quantity: 0,
  lengthExponent: 0,
  forceExponent: 0,
  temperatureExponent: 0,
  label: 'NONE',
  unit: 'NONE',
};

/** Whether each value of a function is a pair of real and imaginary part. */
export const isComplex = (kind: UffFunction['ordinateKind']): boolean => kind.startsWith('complex');

/**
 * Widths of the numbers that repeat in the data of a function (record 12).
 * @returns one line's fields in order; every field is an E of that width
 */
export function dataWidths(kind: UffFunction['ordinateKind'], isEven: boolean): readonly number[] {
  if (kind.endsWith('single')) return [13, 13, 13, 13, 13, 13];
  if (isEven) return [20, 20, 20, 20];
  return kind === 'real-double' ? [13, 20, 13, 20] : [13, 20, 20];
}
