import { type Box, pistonSystem } from '../../src/box/pistons.ts';

/** The frequencies the parts would have alone: plates with the hole blocked and the other plate held, air in a stiff box. */
interface UncoupledFrequencies {
  readonly topHz: number;
  readonly backHz?: number;
  readonly airHz?: number;
}

/**
 * Each part alone on the cushion, the others held still, Hz: omega_i² = (K_i + B A_i²) / m_i.
 * The sum rule follows: the squares of the coupled frequencies and of these have the same sum.
 * Source: Woodhouse, Euphonics section 4.2.2; sum rule: trace of the matrix in `boxModes`.
 */
export function uncoupledFrequencies(box: Box): UncoupledFrequencies {
  const { parts, massKg, stiffnessNPerM, areaM2, cushionPaPerM3: cushion } = pistonSystem(box);
  const alone = parts.map(
    (_, i) => Math.sqrt((stiffnessNPerM[i]! + cushion * areaM2[i]! ** 2) / massKg[i]!) / (2 * Math.PI),
  );
  return Object.fromEntries(parts.map((part, i) => [`${part}Hz`, alone[i]!])) as unknown as UncoupledFrequencies;
}
