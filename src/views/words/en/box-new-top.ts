import type { AimSource } from '../../../compare/aim-sources.ts';
import type { WoodNeed } from '../../../compare/old-signature.ts';
import type { BoxRepair } from '../../../record/box-edit.ts';
import type { Stage } from '../../../record/record.ts';
import type { TapKind } from '../../../wood/hold-guide.ts';
import { listed } from './box-codes.ts';
import { codes } from './codes.ts';
import { tapInside } from './wood-codes.ts';

type Damage = BoxRepair['topDamage'][number];

const matches: Readonly<Record<BoxRepair['matchBy'], string>> = {
  along: 'Stiffness along the grain',
  across: 'Stiffness across the grain',
  both: 'Stiffness along and across together',
  mass: 'Mass',
};

const damages: Readonly<Record<Damage, string>> = {
  cracked: 'cracked',
  'loose-brace': 'a brace is loose',
  sunken: 'sunken',
  'sanded-thin': 'sanded thin',
};

const woodNeeds: Readonly<Record<WoodNeed, string>> = {
  'old-density': 'the density of the old top',
  'old-along': 'the old top’s E along the grain',
  'old-across': 'the old top’s E across the grain',
  'old-thickness': 'the old top’s thickness',
  'new-density': 'the density of the new wood',
  'new-along': 'the new wood’s E along the grain',
  'new-across': 'the new wood’s E across the grain',
};

const sources: Readonly<Record<AimSource, string>> = {
  reading: 'from the old reading',
  drawing: 'from the old top as drawn',
  box: 'from the old box, with the new top in it',
  earlier: 'as your earlier instruments went',
};

const damageList = (known: readonly Damage[]): string => listed(known.map((one) => damages[one]));

/** A new top for an old box, and its sheet for the bench. */
export const boxNewTop = {
  newTop: {
    title: 'A new top for an old box',
    wish: 'Whose readings to aim for',
    noneYet:
      'No instrument on the shelf has a step yet. Before anything is taken apart, tap air, top and back on the bench: afterwards it is too late.',
    old: 'Old instrument',
    thisOne: (name: string) => `${name} (this one, before its repair)`,
    lastStep: 'Last step before the repair',
    step: (n: number, done: string, when: string) => `${n}. ${done}, ${when}`,
    gone: 'The linked instrument is not on this shelf any more. Choose again.',
    damageHint:
      'A damaged part’s own readings are kept: damage widens the ± of what follows from them, it does not throw them away.',
    topWas: 'The old top, when it was read, was',
    backWas: 'The back was',
    damages,
    markedOn: 'Mark on',
    faces: { top: 'the top', back: 'the back' },
    markedAs: 'What is there',
    markHint: 'Touch the outline where it is. As seen from outside, neck up; each mark keeps its date.',
    drawingOf: (face: 'top' | 'back') => `Outline of the ${face}, with the marks put on it`,
    markMiddle: 'Or put a mark and type its place',
    markAt: (face: 'top' | 'back', damage: Damage, when: string) => `The ${face}, ${damages[damage]}, ${when}`,
    removeMark: (n: string) => `Remove mark ${n}`,
    markNote: 'How long, how wide, what was done',
    soundPart: 'sound, I looked',
    wood: 'Wood',
    woods: 'The wood, old and new',
    woodsHint: 'The removed top is the best test piece there is: cut a strip along and one across, weigh and tap them.',
    oldWood: 'Old top, from its strips',
    newWood: 'New wood',
    fromPiece: 'Figures from a piece',
    strip: (way: 'along' | 'across') => (way === 'along' ? 'Strip along the grain' : 'Strip across the grain'),
    stripsHint:
      'Add each strip under Wood as brace stock and tap it: it is read along its own length. Then choose here which was cut along and which across.',
    typed: 'typed below',
    piece: (name: string, owner: string) => `${name} (${owner})`,
    moisterHint: 'Moisture of the wood, not of the air; empty: both lay in the same air',
    matchFirst: 'Match first',
    matches,
    chosen: 'Thickness you choose',
    chosenHint: 'Empty: the one that meets the wish',
    measureFirst: (needs: readonly WoodNeed[]) =>
      `To say how thick the new top must be, measure ${listed(needs.map((need) => woodNeeds[need]))}.`,
    thicknessOf: 'Thickness of the new top',
    equalBy: (match: BoxRepair['matchBy']) =>
      `makes it equal by: ${matches[match].toLowerCase()}. Match stiffness first, then mass: common practice.`,
    givesLabel: 'What each thickness gives',
    toEqual: 'To equal',
    stiffnessAlong: 'Stiffness along',
    stiffnessAcross: 'Stiffness across',
    areaMass: 'Mass of the area',
    yourChoice: 'Your choice',
    givesHint: 'New against old, at that thickness planed exactly. ± from the doubt of both woods.',
    readingsLabel: 'Old readings',
    readings: 'The old readings',
    noReadings:
      'No named mode up to that step. Name the modes of the old instrument (air, top, back, monopole …) under Rounds or on the bench.',
    modeAt: (mode: string, at: Stage) => `${mode}, ${codes.stages[at].toLowerCase()}`,
    worth: (part: 'top' | 'back' | 'air', damage: readonly Damage[] | 'unasked') => {
      if (part === 'air') return 'kept: it goes into the model of the box, with the new top in it';
      if (damage === 'unasked') return `was the ${part} sound? Say so above; until then the ± is wider`;
      return damage.length === 0 ? 'read sound' : `wider: ${damageList(damage)}`;
    },
    bridgeLoadHint:
      'Strings off, body on its sides, a dial gauge beside the bridge; as light as the gauge can read. Empty: not measured',
    airNotNoted: 'Humidity not noted here or for the new wood: its doubt is in the ±.',
  },

  sheet: {
    stages: {
      free: 'Free plate, before bracing',
      braced: 'Braced, before gluing',
      rims: 'On the rims',
      box: 'In the closed box',
      strung: 'Strung',
    },
    alone: (piece: string, length: string, width: string) => `${piece} alone, ${length} × ${width}, planed even:`,
    tap: (kind: TapKind) => tapInside(kind),
    label: 'Sheet for the bench',
    title: (name: string, old: string) => `${name}: a new top after ${old}`,
    titleSame: (name: string) => `${name}: a new top after the old one`,
    asOldTop: (thickness: string, match: BoxRepair['matchBy']) =>
      `(${thickness} for the old top’s ${matches[match].toLowerCase()})`,
    chosen: '(chosen)',
    against: (along: string, across: string, mass: string) =>
      `Against the old top at that thickness: stiffness ${along} along and ${across} across, mass ${mass}. Bring the stiffness right first, then the mass.`,
    aims: 'Aims',
    mode: 'Mode',
    oldRead: 'The old one read',
    aimFor: 'Aim for',
    youRead: 'You read',
    givesUnder: (weight: string) => `gives under ${weight} on the bridge, strings off`,
    noReading: 'Nothing known speaks of this stage yet.',
    hint: 'Within the ± of an aim the new top does what the old one did, with braces and rims rebuilt alike. The old readings are carried to the air of the new wood, for its stiffness and mass at this thickness. Where several ways lead to an aim they stand side by side, and the figure is the mean of those that agree; agreeing makes it no surer, since they share the same woods. Each stage you read narrows what is left open at the next. ± is the 95 % interval.',
    print: 'Print this sheet',
    computing: 'The drawn tops are being computed; their figures come in as they are ready.',
    source: (source: AimSource) => sources[source],
    from: (source: AimSource, figure: string, agrees: boolean) =>
      `${sources[source]}: ${figure}, ${agrees ? 'agrees' : 'does not agree'}`,
    newDrawn: (figure: string) => `new top as drawn gives ${figure}`,
    atOdds: 'no figure to work by: what is known does not agree. Look first at what is furthest off',
    nothingSays: 'nothing known says where it will lie',
    backStays: 'stays with the body: read it again on the open body',
    damaged: (known: readonly Damage[]) =>
      `wide, the old top was read with this: ${damageList(known)}${known.includes('sunken') ? '' : '; that can only have lowered it'}`,
    unasked: 'wide: say above what was wrong with the old top, or that it was sound',
  },
};
