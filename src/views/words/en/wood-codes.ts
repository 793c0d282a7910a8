// The codes of the wood's physics, in the words of the bench.
import type { Piece } from '../../../record/record.ts';
import type { BoardWarning } from '../../../wood/board-warnings.ts';
import type { DeflectionInput } from '../../../wood/deflection.ts';
import type { Entry, EntrySuspect } from '../../../wood/entry-check.ts';
import type { TapKind } from '../../../wood/hold-guide.ts';
import type { Pattern } from '../../../wood/pattern-names.ts';
import { SPECIES } from '../../../wood/species.ts';
import type { StickDoubt, StickInput } from '../../../wood/stick.ts';
import type { ThicknessCriterion } from '../../../wood/thickness.ts';
import type { InputCode } from '../../../wood/traced.ts';
import { number } from '../../parts/figures.ts';
import { count } from './count.ts';

const pieceKinds: Readonly<Record<Piece['kind'], string>> = {
  top: 'Top',
  back: 'Back',
  side: 'Side',
  'brace-stock': 'Brace stock',
  'bridge-blank': 'Bridge blank',
};

const taps: Readonly<Record<TapKind, string>> = {
  'long-grain-bending': 'Long-grain bending',
  'cross-grain-bending': 'Cross-grain bending',
  twist: 'Twist',
};

/** A tap within a sentence. */
export const tapInside = (kind: TapKind): string => taps[kind].toLowerCase();

/** A mode by its node lines: the trade's word for the three that are tapped, else how the lines run. */
function patternWords({ m, n }: Pattern): string {
  if (m === 2 && n === 0) return 'long-grain bending';
  if (m === 0 && n === 2) return 'cross-grain bending';
  if (m === 1 && n === 1) return 'twist';
  if (n === 0) return `${count(m, 'line')} across the grain`;
  if (m === 0) return `${count(n, 'line')} along the grain`;
  return `${count(m, 'line')} across, ${n} along the grain`;
}

const inputs: Readonly<Record<InputCode, string>> = {
  length: 'the length',
  width: 'the width',
  thickness: 'the thickness',
  mass: 'the mass',
  'long-tap': 'the long-grain tap',
  'cross-tap': 'the cross-grain tap',
  'twist-tap': 'the twist tap',
  'other-taps': 'the other taps',
  handbook: 'handbook values that cannot be tapped',
  unevenness: 'wood that is not the same all over',
  theory: 'the plate theory',
};

const stickInputs: Readonly<Record<StickInput, string>> = {
  length: 'the length',
  width: 'the width',
  thickness: 'the thickness',
  mass: 'the mass',
  'bending-tap': 'the bending tap',
  'twist-tap': 'the twist tap',
  'shear-ratio': 'the shear, taken from the handbook: tap the twist too',
};

const deflectionInputs: Readonly<Record<DeflectionInput, string>> = {
  span: 'the span',
  load: 'the load',
  deflection: 'the deflection',
  width: 'the width',
  thickness: 'the thickness',
};

/** What to measure better; nothing on the bench helps the others. */
const betterTool: Readonly<Partial<Record<InputCode | StickInput, string>>> = {
  thickness: 'Take more caliper points, or a better caliper.',
  length: 'Measure the length to the finest mark of the rule.',
  width: 'Measure the width to the finest mark of the rule.',
  mass: 'Use a finer scale.',
  'long-tap': 'Take more holds of the long-grain bending.',
  'cross-tap': 'Take more holds of the cross-grain bending.',
  'twist-tap': 'Take more holds of the twist.',
  'bending-tap': 'Take more holds of the bending.',
  'shear-ratio': 'Tap the twist too.',
};

function warningWords(warning: BoardWarning, mm: (value: number) => string): string {
  switch (warning.because) {
    case 'bending-modes-mix': {
      const [first, second] = warning.remedies;
      return `The two bending modes sound nearly together and mix: this board is ${number(warning.aspect, 2)} times as long as wide, and they meet at ${number(warning.meetingAspect, 2)}. Trim the ${first!.trim} to ${mm(first!.toMm)} or the ${second!.trim} to ${mm(second!.toMm)}; or hold one bend where the other stands still, and tap on the other's node line.`;
    }
    case 'neighbour-close':
      return `The ${patternWords(warning.tapped)} lies only ${number(warning.apartHz, 1)} Hz from the mode with ${patternWords(warning.neighbour)}: the peak may be either. Hold on the node line of the ${patternWords(warning.tapped)} where the other one moves most.`;
    case 'taps-look-exchanged':
      return `If the ${tapInside(warning.first)} and the ${tapInside(warning.second)} were exchanged, this would be a far more ordinary board of its species. Look again which of the two was tapped how.`;
    case 'modes-not-reached':
      return `No wood sounds these three notes on a board of this size (${number(warning.misfitPercent, 1)} % apart at best). One of them is probably another mode: look at the peaks together below.`;
  }
}

const entries: Readonly<Record<Entry, string>> = {
  length: 'the length',
  width: 'the width',
  thickness: 'the thickness',
  mass: 'the mass',
  'long-grain-bending': 'the long-grain bending',
  'cross-grain-bending': 'the cross-grain bending',
  twist: 'the twist',
};

const described: Readonly<Record<EntrySuspect['describes'], string>> = {
  density: 'density',
  'e-long': 'stiffness along the grain',
  'e-cross': 'stiffness across the grain',
  shear: 'shear stiffness',
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** One explanation of numbers that describe no wood. @param show the likely value with its unit */
function suspectWords(suspect: EntrySuspect, show: (entry: Entry, value: number) => string): string {
  const entry = entries[suspect.entry];
  const likely =
    suspect.likelyValue === undefined ? '' : ` It would have been ${show(suspect.entry, suspect.likelyValue)}.`;
  switch (suspect.slip) {
    case 'other-units':
      return `${capital(entry)} looks as if typed in other units.${likely}`;
    case 'tenfold':
      return `The decimal point of ${entry} looks one place off.${likely}`;
    case 'octave':
      return `The peak taken for ${entry} looks an octave off.${likely}`;
    case 'exchanged':
      return `${capital(entry)} and ${entries[suspect.with ?? suspect.entry]} look exchanged.`;
    case 'unexplained':
      return `${capital(entry)} is the most likely one: check it first.`;
  }
}

const doubts: Readonly<Record<StickDoubt, string>> = {
  'density-not-wood': 'No wood is so light or heavy. Check the mass first, then width and thickness.',
  'modulus-not-wood':
    'No wood is so soft or stiff. Check the length and the thickness, and whether this is the lowest bending.',
  'shear-not-wood': 'No wood has this shear stiffness: what was taken for the twist is probably a bending mode.',
  'too-short':
    'The stick is so short for its height that shear takes more than a tenth: tap a longer one, or lying flat.',
};

const criteria: Readonly<Record<ThicknessCriterion, { readonly name: string; readonly hint: string }>> = {
  'long-stiffness': { name: 'Same stiffness along the grain', hint: 'E along × h³' },
  'cross-stiffness': { name: 'Same stiffness across the grain', hint: 'E across × h³' },
  'patch-stiffness': { name: 'Same stiffness both ways together', hint: 'a clamped patch under load' },
  'patch-frequency': { name: 'Same frequency of the clamped patch', hint: 'stiffness and mass together' },
  'free-long-frequency': { name: 'Same long-grain tap tone', hint: 'free plate of the same size' },
  'free-cross-frequency': { name: 'Same cross-grain tap tone', hint: 'free plate of the same size' },
  mass: { name: 'Same mass', hint: 'for the same area' },
};

const speciesNames: Readonly<Record<string, string>> = Object.fromEntries(SPECIES.map(({ id, name }) => [id, name]));

export const woodCodes = {
  pieceKinds,
  taps,
  pattern: patternWords,
  /** by the ids of the handbook's list; in English as they are stored */
  species: speciesNames,
  criteria,
  doubts,
  warning: warningWords,
  suspect: suspectWords,
  suspectHead: ({ describes }: EntrySuspect) =>
    `No wood has the ${described[describes]} these entries give. One of them is wrong, most likely:`,
  /** "thickness 95 %" within "doubt: thickness 95 %, length 3 %" */
  share: (input: InputCode, percent: string) => `${inputs[input].replace(/^the /, '')} ${percent} %`,
  measureBetter: 'What to measure better:',
  /** follows `measureBetter`; undefined where nothing on the bench helps */
  betterBoard: (input: InputCode) => {
    const tool = betterTool[input];
    return tool === undefined ? undefined : `most of the doubt in E along comes from ${inputs[input]}. ${tool}`;
  },
  betterStick: (input: StickInput) =>
    `most of the doubt in E comes from ${stickInputs[input]}.${betterTool[input] === undefined ? '' : ` ${betterTool[input]}`}`,
  deflectionRead: (modulus: string, perWidth: string, worst: DeflectionInput | undefined) =>
    `E ${modulus}, stiffness per width ${perWidth}${worst === undefined ? '' : `; most of the doubt comes from ${deflectionInputs[worst]}`}.`,
};
