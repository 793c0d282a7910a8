import type { TapKind } from '../../../wood/hold-guide.ts';
import { count } from './count.ts';
import { tapInside } from './wood-codes.ts';

/** A place along one side of a piece: at an end or edge, in the middle, or so far from the first end. */
export type SidePlace = 'first' | 'middle' | 'last' | { readonly fromFirst: string };

function placed(place: SidePlace, first: string, middle: string, last: string): string {
  if (place === 'first') return `at the ${first}`;
  if (place === 'last') return `at the ${last}`;
  return place === 'middle' ? middle : `${place.fromFirst} from the ${first}`;
}

/** From the taps to what the piece is. */
export const woodReading = {
  measure: {
    sizesFirst: 'Enter length, width, thickness and mass first: the page then draws where to hold and where to tap.',
    notTapped: 'not tapped',
    /** kept with the round: what was tapped */
    spot: (kind: TapKind) => `free piece, for ${tapInside(kind)}`,
    drawing: (kind: TapKind) => `Where to hold and tap for ${tapInside(kind)}`,
    drawingHint: 'Dashed: node lines, where this mode stands still. The grain runs from left to right.',
    hold: 'hold',
    tap: 'tap',
    workingOut: 'Working out where to hold …',
    holdAndTap: (hold: string, tap: string) =>
      `Pinch the piece between finger and thumb at the ring, ${hold}; let the rest hang free. Tap at the dot, ${tap}, and let it ring out.`,
    expect: (hz: string) => `Expect it near ${hz} Hz.`,
    /** a place by its distance from the left end and from the lower edge */
    where: (along: SidePlace, across: SidePlace) =>
      along === 'middle' && across === 'middle'
        ? 'in the middle'
        : `${placed(along, 'left end', 'in the middle of the length', 'right end')}, ${placed(across, 'lower edge', 'in the middle of the width', 'upper edge')}`,
    opening: 'Opening the microphone …',
    listenFor: (kind: TapKind) => `Listen for ${tapInside(kind)}`,
    countsItself: (taps: number, holds: number) =>
      `${count(taps, 'tap')} a hold, ${count(holds, 'hold')}; the page counts and stops by itself.`,
    next: (kind: TapKind) => `Next: ${tapInside(kind)}`,
    otherRound: 'Another round is still under way. Finish it first.',
    oneHold: 'One hold only: the ± lacks the scatter of picking the piece up anew, which is usually the larger part.',
    whichPeak: (kind: TapKind) => `Which peak is the ${tapInside(kind)}`,
    strongest: 'The strongest of the last round',
    orType: 'Or type its frequency',
    qUnknown: 'Q unknown',
  },

  evenness: {
    shape: 'Outline of the board',
    shapes: {
      'not-said': 'Choose …',
      rectangle: 'A rectangle, square corners',
      'cut-out': 'Cut to an outline, or not square',
    },
    unevenHint: 'Caliper in nine places: the largest difference. With a thickness map below, the map counts.',
    unfit: {
      'shape-not-said':
        'Density and stiffness hold for a rectangle only: say whether the board is one before its figures are worked out.',
      'thickness-not-said': 'Say how even the thickness is: a shallow hollow moves the stiffness by a tenth.',
      'cut-out':
        'Not measurable here: length times width times thickness is not the wood of a board that is cut to an outline. Tap it before it is cut out, or read a rectangular offcut of the same board.',
    },
  },

  reading: {
    working: 'Reading the board …',
    failed: (message: string) => `The board could not be read (${message}).`,
    stillToTap: (kinds: readonly TapKind[]) =>
      `Still to be tapped: ${kinds.map(tapInside).join(', ')}. All three are needed, because each constant moves all of them.`,
    speedLong: 'Speed of sound along',
    speedCross: 'Speed of sound across',
    radiationRatio: 'Radiation ratio c/ρ',
    impedance: 'How hard to set moving (characteristic impedance)',
    kept: 'Kept with the piece',
    keep: 'Keep this reading',
    keepInstead: 'Keep this reading instead',
    allConstants: 'All constants',
    constant: 'Constant',
    value: 'Value',
    doubt: (shares: readonly string[]) => `doubt: ${shares.join(', ')}`,
    plusMinus: '± is the 95 % interval, from taps, ruler and scale together.',
    noLoss: 'Damping: not measurable here, a Q is missing.',
    loss: (along: string, across: string, twist: string) =>
      `Q of the wood alone: along ${along}, across ${across}, in twist ${twist}.`,
    bare: 'The bare formulas as a check',
    bareHint:
      'They take each mode as if the others were not there; the plate solved as a whole is the answer above. They may be off by 8 % where the bends lie close, and the twist formula reads 8 to 12 % low.',
    bareOne: (tap: string, gpa: string, percent: string) => `${tap}: ${gpa} GPa, ${percent} % from the plate`,
    together: 'All peaks together: which is which',
    naming: 'Laying the peaks beside every board they could be …',
    namingFailed: (message: string) => `The peaks could not be named (${message}).`,
    namingNone: 'No board of this wood explains these peaks. Check the sizes, and tap all three modes.',
    namingClose: 'Another naming explains the peaks nearly as well: do not trust this one alone.',
    peaksLabel: 'Peaks and modes',
    peak: 'Peak',
    mode: 'Mode',
    model: 'Plate model',
    apart: 'Apart',
    take: 'Take it',
    noMode: 'no mode of this board',
    takeAs: (kind: TapKind) => `as ${tapInside(kind)}`,
    near: (mode: string, hz: string) => `${mode} near ${hz} Hz`,
    notHeard: (modes: readonly string[]) => `Not heard: ${modes.join('; ')}.`,
  },

  stick: {
    stillToTap: 'Still to be tapped: the bending. With the twist too, the shear needs no handbook.',
    stiffnessForWeight: 'Stiffness for weight, E/ρ',
    speed: (speed: string, percent: string) =>
      `Speed of sound along the grain ${speed}; shear made E ${percent} % higher than the bare formula.`,
  },

  second: {
    lead: 'Lay the piece on two dowels, put a weight in the middle and read with a dial how far it gives. Along: dowels across the grain. Across: dowels along the grain.',
    directions: { along: 'Along the grain', across: 'Across the grain' },
    tapped: (modulus: string, agreement: 'agree' | 'doubtful' | 'disagree') =>
      `Tapped: ${modulus}. ${
        {
          agree: 'They agree.',
          doubtful: 'They hardly agree: measure the span and the thickness again.',
          disagree: 'They disagree by more than both doubts allow. Look for a wrong entry before you trust either.',
        }[agreement]
      }`,
    sizesFirst: 'Enter length and width first.',
    ninePoints: 'Nine points at least; the grain runs from left to right.',
    place: (row: number, column: number) => `Row ${row}, ${column}`,
    points: (have: number, need: number) => `${have} of ${need} points.`,
    map: (of: {
      readonly mean: string;
      readonly spread: string;
      readonly thinnest: string;
      readonly thickest: string;
      readonly over: string;
      readonly taperAlong: string;
      readonly taperAcross: string;
    }) =>
      `Mean ${of.mean}, spread ${of.spread} from point to point; thinnest ${of.thinnest}, thickest ${of.thickest}. Per ${of.over} it tapers by ${of.taperAlong} along and ${of.taperAcross} across.`,
    /** @param along, across what E would be read off by, with its sign: + is too high */
    asFlat: (along: string, across: string) =>
      `Taken as flat, E along would be read off by ${along} and E across by ${across}. The reading above takes that off.`,
    takeMean: 'Take the mean as the thickness',
  },
};
