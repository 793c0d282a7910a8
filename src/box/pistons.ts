// The box at its three lowest modes: top, back and the air in the hole as pistons on one cushion of air. Outward motion
// counts positive for all three; the cushion's pressure then falls by B (A_top x_top + A_back x_back + S x_air).
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';
import type { Air } from './air.ts';
import { holeAreaM2, type Soundhole } from './soundhole.ts';

/** A plate's lowest mode as a piston: what moves, what holds it, how much air it pushes. */
export interface Piston {
  /** effective mass at the tapping spot, kg, > 0 */
  readonly massKg: number;
  /** stiffness without the air cushion, N/m, > 0 */
  readonly stiffnessNPerM: number;
  /** area of a flat piston that pushes the same air, m², >= 0 */
  readonly areaM2: number;
  /** sharpness of the plate alone, radiation and rims included, > 0 */
  readonly q: number;
}

/** The box as it stands in one state. */
export interface Box {
  readonly air: Air;
  /** air volume, m³, > 0 */
  readonly volumeM3: number;
  readonly hole: Soundhole | 'blocked';
  readonly top: Piston;
  /** `held`: pressed still by hand or too stiff to join in */
  readonly back: Piston | 'held';
}

export type Part = 'top' | 'back' | 'air';

/** One value for each part that can move in this state. */
export type PerPart = Readonly<Partial<Record<Part, number>>>;

/** A coupled mode of the box. */
export interface BoxMode {
  readonly frequencyHz: number;
  readonly q: number;
  /** outward displacement of each part, the largest volume flow positive, kg^(-1/2): shape^T M shape = 1 */
  readonly shape: PerPart;
  /** share of each part in the kinetic energy of the mode, 0 to 1, summing to 1 */
  readonly energyShare: PerPart;
}

/** M x'' + R x' + (K + B a a^T) x = F, with M, R, K diagonal. */
export interface PistonSystem {
  readonly parts: readonly Part[];
  readonly massKg: readonly number[];
  readonly stiffnessNPerM: readonly number[];
  readonly resistanceNsPerM: readonly number[];
  readonly areaM2: readonly number[];
  /** B = rho c² / V, Pa/m³ */
  readonly cushionPaPerM3: number;
}

/** rho c² / V: pressure per volume of air pressed in, Pa/m³. Source: Woodhouse, Euphonics section 4.2.2, equation 2. */
export function cushionPaPerM3(air: Air, volumeM3: number): number {
  if (!(volumeM3 > 0)) throw new RangeError(`cushionPaPerM3: volume ${volumeM3} m³, need > 0`);
  return (air.densityKgM3 * air.soundSpeedMPerS ** 2) / volumeM3;
}

/**
 * The equations of motion of the box in its state.
 * Hole: m = rho S L, no spring of its own. Losses: r = m omega / Q with each part's own resonance, the air's being the
 * Helmholtz frequency.
 * Source: top and air: Christensen & Vistisen 1980, J. Acoust. Soc. Am. 68:758, as derived openly in Woodhouse, Euphonics
 * section 4.2.2; the back as a third piston on the same cushion: Christensen 1982, Acustica 50:159.
 */
export function pistonSystem(box: Box): PistonSystem {
  const cushion = cushionPaPerM3(box.air, box.volumeM3);
  const parts: Part[] = [];
  const massKg: number[] = [];
  const stiffnessNPerM: number[] = [];
  const resistanceNsPerM: number[] = [];
  const areaM2: number[] = [];
  const add = (part: Part, mass: number, stiffness: number, area: number, ownStiffness: number, q: number) => {
    if (!(mass > 0 && ownStiffness > 0 && area >= 0 && q > 0))
      throw new RangeError(`pistonSystem: ${part} m ${mass} kg, K ${ownStiffness} N/m, A ${area} m², q ${q}, need > 0`);
    parts.push(part);
    massKg.push(mass);
    stiffnessNPerM.push(stiffness);
    resistanceNsPerM.push(Math.sqrt(mass * ownStiffness) / q);
    areaM2.push(area);
  };
  const plate = (part: Part, p: Piston) => add(part, p.massKg, p.stiffnessNPerM, p.areaM2, p.stiffnessNPerM, p.q);
  plate('top', box.top);
  if (box.back !== 'held') plate('back', box.back);
  if (box.hole !== 'blocked') {
    const area = holeAreaM2(box.hole);
    add('air', box.air.densityKgM3 * area * box.hole.effectiveLengthM, 0, area, cushion * area * area, box.hole.q);
  }
  return { parts, massKg, stiffnessNPerM, resistanceNsPerM, areaM2, cushionPaPerM3: cushion };
}

/**
 * The coupled modes, ascending in frequency, one for each part that can move.
 * Eigenvalues of M^(-1/2) (K + B a a^T) M^(-1/2); Q of a mode = omega / (shape^T R shape), which holds for light damping
 * (each Q above about 10).
 * Source: equations as in `pistonSystem`; light damping: Rayleigh 1894, Theory of Sound section 102.
 */
export function boxModes(box: Box): readonly BoxMode[] {
  const { parts, massKg, stiffnessNPerM, resistanceNsPerM, areaM2, cushionPaPerM3: cushion } = pistonSystem(box);
  const n = parts.length;
  const scaled = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      scaled[i * n + j] =
        ((i === j ? stiffnessNPerM[i]! : 0) + cushion * areaM2[i]! * areaM2[j]!) / Math.sqrt(massKg[i]! * massKg[j]!);
  const { values, vectors } = symmetricEigen(scaled, n);
  return Array.from(values, (lambda, k) => {
    const omega = Math.sqrt(lambda);
    const unit = parts.map((_, i) => vectors[k * n + i]!);
    const flows = unit.map((u, i) => (u * areaM2[i]!) / Math.sqrt(massKg[i]!));
    const sign = Math.sign(flows.reduce((most, flow) => (Math.abs(flow) > Math.abs(most) ? flow : most), 0)) || 1;
    const shape = unit.map((u, i) => (sign * u) / Math.sqrt(massKg[i]!));
    const loss = shape.reduce((sum, x, i) => sum + resistanceNsPerM[i]! * x * x, 0);
    return {
      frequencyHz: omega / (2 * Math.PI),
      q: omega / loss,
      shape: perPart(parts, shape),
      energyShare: perPart(
        parts,
        unit.map((u) => u * u),
      ),
    };
  });
}

function perPart(parts: readonly Part[], values: readonly number[]): PerPart {
  return Object.fromEntries(parts.map((part, i) => [part, values[i]!]));
}
