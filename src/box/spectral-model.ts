// The piston box stripped to what frequencies alone can tell: each plate without its cushion, the air, how strongly each
// plate grips the cushion, and, where a known mass was added, the plate's own mass. All in Hz and Hz², so that no volume
// is needed until areas are asked for.
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';

/** Parameters by name; logarithms of what is named, so that none can turn negative. */
export const PARAMETERS = [
  /** top without its cushion, Hz */
  'topVacuoHz',
  /** grip of the top on the cushion, A sqrt(B / m) / 2 pi, Hz */
  'topGripHz',
  /** back without its cushion, Hz */
  'backVacuoHz',
  /** grip of the back on the cushion, Hz */
  'backGripHz',
  /** the air alone (Helmholtz), Hz */
  'airHz',
  /** effective mass of the top, kg */
  'topMassKg',
  /** effective mass of the back, kg */
  'backMassKg',
  /** the lumps as they are, over what the scale said */
  'bridgeLumpRatio',
  'backLumpRatio',
] as const;

export type SpectralParameter = (typeof PARAMETERS)[number];

/** Log parameters, (9,), in the order of PARAMETERS; those of parts that do not exist are never read. */
export type LogParameters = Float64Array;

export const at = (parameter: SpectralParameter): number => PARAMETERS.indexOf(parameter);

/** Which parts move in a state, and the lumps on them as the scale read them, kg (0: none). */
export interface SpectralState {
  readonly backMoves: boolean;
  readonly airMoves: boolean;
  readonly bridgeLumpKg: number;
  readonly backLumpKg: number;
}

/** Frequencies of a state, ascending, Hz, with their derivatives by the log parameters and the parts' energy shares. */
export interface SpectralModes {
  readonly frequenciesHz: readonly number[];
  /** derivative of each frequency, (modes, 9), Hz */
  readonly jacobian: readonly Float64Array[];
  /** share of the kinetic energy of each mode in the top (lump included), 0 to 1 */
  readonly topShare: readonly number[];
}

/**
 * Modes of the box from log parameters.
 * F = S (D + u u^T) S, D = diag(f_top², f_back², 0), u = (grips, f_air), S = diag(sqrt(m / (m + lump)), ..., 1); the
 * frequencies are the roots of its eigenvalues. With y = S q for a unit eigenvector q of eigenvalue F_k:
 * dF_k = y^T (dD) y + 2 (u^T y)(y^T du) + 2 F_k q^T S^-1 dS q.
 * Source: the equations of `pistonSystem` divided by the masses; first-order perturbation of a symmetric matrix.
 */
export function spectralModes(log: LogParameters, state: SpectralState): SpectralModes {
  const value = (parameter: SpectralParameter) => Math.exp(log[at(parameter)]!);
  const lumpShare = (massKg: number, lumpKg: number) => (lumpKg === 0 ? 0 : lumpKg / (massKg + lumpKg));
  const rows: Row[] = [
    {
      vacuo: at('topVacuoHz'),
      grip: at('topGripHz'),
      mass: at('topMassKg'),
      lump: at('bridgeLumpRatio'),
      lumpShare: lumpShare(value('topMassKg'), state.bridgeLumpKg * value('bridgeLumpRatio')),
    },
  ];
  if (state.backMoves)
    rows.push({
      vacuo: at('backVacuoHz'),
      grip: at('backGripHz'),
      mass: at('backMassKg'),
      lump: at('backLumpRatio'),
      lumpShare: lumpShare(value('backMassKg'), state.backLumpKg * value('backLumpRatio')),
    });
  if (state.airMoves)
    rows.push({ vacuo: undefined, grip: at('airHz'), mass: undefined, lump: undefined, lumpShare: 0 });

  const n = rows.length;
  const own = rows.map((row) => (row.vacuo === undefined ? 0 : Math.exp(2 * log[row.vacuo]!)));
  const u = rows.map((row) => Math.exp(log[row.grip]!));
  const s = rows.map((row) => Math.sqrt(1 - row.lumpShare));
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) matrix[i * n + j] = s[i]! * s[j]! * ((i === j ? own[i]! : 0) + u[i]! * u[j]!);
  const { values, vectors } = symmetricEigen(matrix, n);

  const frequenciesHz: number[] = [];
  const jacobian: Float64Array[] = [];
  const topShare: number[] = [];
  for (let k = 0; k < n; k++) {
    const hz = Math.sqrt(Math.max(values[k]!, 0));
    const q = vectors.subarray(k * n, (k + 1) * n);
    const flow = q.reduce((sum, qi, i) => sum + qi * s[i]! * u[i]!, 0);
    const slope = new Float64Array(PARAMETERS.length);
    rows.forEach((row, i) => {
      const y = q[i]! * s[i]!;
      // d/d ln f = 2 f² y²; d/d ln u = 2 u y flow; d ln s / d ln m = lumpShare / 2
      if (row.vacuo !== undefined) slope[row.vacuo] = (own[i]! * y * y) / hz;
      slope[row.grip] = (u[i]! * y * flow) / hz;
      if (row.mass !== undefined) slope[row.mass] = (hz * q[i]! * q[i]! * row.lumpShare) / 2;
      if (row.lump !== undefined) slope[row.lump] = (-hz * q[i]! * q[i]! * row.lumpShare) / 2;
    });
    frequenciesHz.push(hz);
    jacobian.push(slope);
    topShare.push(q[0]! * q[0]!);
  }
  return { frequenciesHz, jacobian, topShare };
}

/** Where a part's parameters stand in the vector; undefined for what the air does not have. */
interface Row {
  readonly vacuo: number | undefined;
  readonly grip: number;
  readonly mass: number | undefined;
  readonly lump: number | undefined;
  readonly lumpShare: number;
}
