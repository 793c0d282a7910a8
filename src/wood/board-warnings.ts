// What a maker should know before trusting a reading of a board: modes that mix, modes that overlap, and what to change.

import type { Estimate } from '../quantity/estimate.ts';
import type { BoardSize } from './board-energy.ts';
import type { BoardFit } from './board-fit.ts';
import type { BoardMode } from './board-modes.ts';
import type { TapKind } from './hold-guide.ts';
import type { Pattern } from './pattern-names.ts';

/** A doubt about a reading, as a code a view turns into a sentence. */
export type BoardWarning =
  | {
      /** the two bending modes sound nearly together and share their motion: a ring and an X instead of two bends */
      readonly because: 'bending-modes-mix';
      /** length over width, and the aspect at which the two would meet */
      readonly aspect: number;
      readonly meetingAspect: number;
      /** either cut parts them by a quarter; a longer or wider board is not on offer */
      readonly remedies: readonly { readonly trim: 'length' | 'width'; readonly toMm: number }[];
      /** hold on the node line of one bend, in the middle of the other's motion, and tap on the other's node line */
      readonly hold: 'on-the-other-bend';
    }
  | {
      /** another mode lies within a bandwidth of a tapped one: the peak may be either */
      readonly because: 'neighbour-close';
      readonly tapped: Pattern;
      readonly neighbour: Pattern;
      readonly apartHz: number;
      /** hold on the tapped mode's node line where the neighbour moves most */
      readonly hold: 'on-own-node-line';
    }
  /** a possible wood, but a far more ordinary one if these two taps were exchanged */
  | { readonly because: 'taps-look-exchanged'; readonly first: TapKind; readonly second: TapKind }
  /** no constants sound these three notes on this board: one mode is misnamed, or two are too close */
  | { readonly because: 'modes-not-reached'; readonly misfitPercent: number };

/** Motion shared beyond this and the names mean little. Source: ours; E is then off by 3 % in the bare formulas. */
const PURE = 0.9;
/** The two bends are parted by this ratio of frequency in the remedies. Source: ours; purity is then above 0.95. */
const PARTED = 1.25;
/** Q taken where none was measured. Source: lowest of the usual range for spruce across the grain (from memory). */
const LOW_Q = 40;

/**
 * Doubts about a reading.
 * @param fit  the fitted board with its three modes
 * @param size m
 * @param all  all low modes of the fitted board
 * @param qs   Q of the three modes where measured
 * Source: our derivation; the meeting aspect (E_L / E_R)^(1/4) follows from the bar formulas.
 */
export function warnOf(
  fit: BoardFit,
  size: BoardSize,
  all: readonly BoardMode[],
  qs: readonly (Estimate | undefined)[],
): readonly BoardWarning[] {
  const warnings: BoardWarning[] = [];
  const meetingAspect = (fit.elastic.eLongPa / fit.elastic.eCrossPa) ** 0.25;
  const isBend = ({ m, n }: Pattern) => (m === 2 && n === 0) || (m === 0 && n === 2);
  const bends = fit.modes.filter(({ pattern }) => isBend(pattern));
  if (bends.length === 2 && bends.some(({ purity }) => purity < PURE)) {
    warnings.push({
      because: 'bending-modes-mix',
      aspect: size.lengthM / size.widthM,
      meetingAspect,
      remedies: [
        { trim: 'length', toMm: (1000 * size.widthM * meetingAspect) / Math.sqrt(PARTED) },
        { trim: 'width', toMm: (1000 * size.lengthM) / (meetingAspect * Math.sqrt(PARTED)) },
      ],
      hold: 'on-the-other-bend',
    });
  }
  fit.modes.forEach((mode, k) => {
    const bandwidthHz = mode.frequencyHz / (qs[k]?.value ?? LOW_Q);
    for (const other of all) {
      const apartHz = Math.abs(other.frequencyHz - mode.frequencyHz);
      const isItself = other.pattern.m === mode.pattern.m && other.pattern.n === mode.pattern.n;
      if (isItself || apartHz > bandwidthHz) continue;
      warnings.push({
        because: 'neighbour-close',
        tapped: mode.pattern,
        neighbour: other.pattern,
        apartHz,
        hold: 'on-own-node-line',
      });
    }
  });
  if (!fit.isConverged) {
    warnings.push({ because: 'modes-not-reached', misfitPercent: 100 * Math.max(...fit.misfits.map(Math.abs)) });
  }
  return warnings;
}
