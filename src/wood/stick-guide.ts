// How to hold and tap a bar: supports on the node lines of its first bend, or on the cross of its first twist.
import type { HoldGuide } from './hold-guide.ts';

/** Distance of the node lines of a free bar's first bend from its ends, as a share of its length. Source: ASTM E1876. */
const BEND_NODE = 0.224;

/**
 * Hold and strike for the first bend and the first twist of a bar.
 * @param lengthMm, widthMm of the face that is tapped
 * @returns node lines, hold and strike in mm from the lower left corner
 * Source: ASTM E1876, impulse points for flexure and torsion.
 */
export function stickGuides(lengthMm: number, widthMm: number): readonly Omit<HoldGuide, 'expectedHz'>[] {
  const across = (share: number) => [
    { xMm: share * lengthMm, yMm: 0 },
    { xMm: share * lengthMm, yMm: widthMm },
  ];
  const along = [
    { xMm: 0, yMm: widthMm / 2 },
    { xMm: lengthMm, yMm: widthMm / 2 },
  ];
  return [
    {
      tap: 'long-grain-bending',
      nodeLines: [across(BEND_NODE), across(1 - BEND_NODE)],
      hold: { xMm: BEND_NODE * lengthMm, yMm: 0 },
      strike: { xMm: lengthMm / 2, yMm: widthMm / 2 },
    },
    {
      tap: 'twist',
      nodeLines: [across(0.5), along],
      hold: { xMm: lengthMm / 2, yMm: 0 },
      // Near a corner, but on the node line of the bend, which then stays silent.
      strike: { xMm: (1 - BEND_NODE) * lengthMm, yMm: widthMm },
    },
  ];
}
