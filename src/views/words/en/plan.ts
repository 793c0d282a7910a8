import type { CutMark, EndName, NamedCut } from '../../../record/cut-place.ts';
import type { BracingPattern } from '../../../record/plan-patterns.ts';
import { brace, ends } from './brace.ts';
import { count } from './count.ts';
import { top } from './top.ts';

const patterns: Readonly<Record<BracingPattern, string>> = {
  x: 'X with tone bars and finger braces',
  ladder: 'Ladder',
  fan: 'Fan',
  lattice: 'Lattice',
};

/** How lengths are said. */
interface SaidLengths {
  off(mm: number): string;
  place(mm: number): string;
  stretch(fromMm: number, toMm: number): string;
}

function markWords(mark: CutMark, say: SaidLengths): string {
  switch (mark.at) {
    case 'end':
      return ends[mark.end];
    case 'crossing':
      return mark.of === undefined ? 'the crossing' : `the crossing with ${mark.of}`;
    case 'bridge-plate':
      return 'the bridge plate';
    case 'distance':
      return `${say.place(mark.mm)} from ${ends[mark.from]}`;
  }
}

function placeWords(place: NamedCut['place'], say: SaidLengths): string {
  if (place === 'whole-length') return 'over its whole length';
  const [first, second] = place;
  if (first.at === 'distance' && second.at === 'distance')
    return `${say.stretch(first.mm, second.mm)} from ${ends[second.from]}`;
  return `between ${markWords(first, say)} and ${markWords(second, say)}`;
}

/** The plan: the drawn top, its braces, its masses, shavings entered on it, its sheets. */
export const plan = {
  title: 'Plan',
  titleOf: (name: string) => `Plan of ${name}`,
  needsInstrument: 'A plan belongs to an instrument. Open one first.',
  toRecords: 'To the records',
  nothing:
    'Nothing is drawn yet. Begin with an X pattern on a concert body of our own dimensions; outline, braces and woods can all be changed afterwards.',
  begin: 'Begin a plan',

  drawing: 'Drawing',
  seenFrom: 'Seen from',
  from: { inside: 'From inside', outside: 'From outside' },
  drawingFrom: { inside: 'Top seen from inside, neck up', outside: 'Top seen from outside, neck up' },
  underDrawing: { inside: 'from inside', outside: 'from outside' },
  sides: { bass: 'Bass side', treble: 'Treble side' },
  firstEndOf: (brace: string, step: string, far: string) =>
    `First end of ${brace}. Arrow keys move it by ${step}, with Shift by ${far}.`,
  secondEndOf: (brace: string, step: string, far: string) =>
    `Second end of ${brace}. Arrow keys move it by ${step}, with Shift by ${far}.`,

  drawn: (mass: string, fromTail: string, offCentre: string) =>
    `${mass} drawn, without bridge; centre of gravity ${fromTail} from the tail, ${offCentre} off the centre line.`,
  masses: 'Plate and every brace',
  plate: 'Plate',
  bridgePlate: 'Bridge plate',
  massHint: 'From the drawn sizes and the density of the wood: as sure as that density.',

  brace: 'Brace',
  chooseBrace: 'Choose a brace',
  addBrace: 'Add a brace',
  newBrace: (n: number) => `Brace ${n}`,

  patternAndHand: 'Pattern and hand',
  player: { left: 'For a left-handed player.', right: 'For a right-handed player.' },
  mirrorFor: { left: 'Mirror for the left hand', right: 'Mirror for the right hand' },
  patternHint: 'A pattern takes the place of all braces. Its dimensions are a start, not advice.',
  leftBehind: {
    said: (braces: number, farthest: string) =>
      `The braces still stand as they were laid before scale, soundhole or outline were changed. ${count(braces, 'brace')} would go elsewhere, by up to ${farthest}: drawn dashed. What you moved by hand keeps its distance, and a brace that was shaved stays.`,
    layAnew: 'Lay them out anew',
    leave: 'They stand as I want them',
  },
  cutsStay: 'Shavings drawn on this plan stay in their steps, but no longer show on other braces.',
  patterns,

  shaving: 'Shaving',
  enterBy: 'Enter it by',
  ways: { even: 'a stretch and a depth', places: 'new heights at places' },
  shaveFrom: 'Shave from',
  shaveTo: 'Shave to',
  /** under both fields: from where places are counted */
  countedFrom: (end: EndName) => `Counted from ${ends[end]}.`,
  heightAt: (at: string, now: string) => `At ${at}, now ${now}`,
  wouldLeave: (height: string, from: string, to: string, floor: string) =>
    `This would leave ${height} between ${from} and ${to}, below the floor of ${floor}.`,
  takesOff: (mass: string) => `Takes off ${mass}.`,
  newStep: 'Enters a new step; tap it next.',
  openStep: 'Joins the step that has not been tapped yet.',
  enter: 'Enter this shaving',
  isEntered: 'Entered.',
  enterAgain: 'As much again',
  /** "1.20 mm off X brace, lower end on both sides, between the bridge plate and 60 mm from its tail end" */
  cut: ({ offMm, brace, isOnBothSides, place }: NamedCut, say: SaidLengths) =>
    `${say.off(offMm)} off ${brace}${isOnBothSides ? ' on both sides' : ''}, ${placeWords(place, say)}`,

  sheets: 'Print true to scale, SVG, DXF',
  sheet: 'Sheet',
  subjects: { plan: 'Plan of the top', profiles: 'Side views of the braces' },
  sheetFrom: 'Sheet seen from',
  faces: { inside: 'inside', outside: 'outside' },
  paper: 'Paper',
  papers: { a4: 'A4', letter: 'Letter' },
  mirrored: 'Mirrored, to be laid face down',
  print: (pages: number) => `Print ${count(pages, 'page')}`,
  saveSvg: 'Save SVG',
  saveDxf: 'Save DXF',
  printHint: (check: string, overlap: string) =>
    `Print at 100 %, actual size, no fit to page. Then measure the two lines on every page: ${check} both ways, or the sheet is not true. Pages overlap by ${overlap} or more; lay cross on cross.`,
  /** on the sheets themselves; what is not ASCII is left out there */
  onSheet: {
    bass: 'BASS',
    treble: 'TREBLE',
    seen: (face: 'inside' | 'outside', mirrored: boolean, hand: 'right' | 'left') =>
      `SEEN FROM ${face.toUpperCase()}${mirrored ? ', MIRRORED' : ''}, ${hand.toUpperCase()}-HANDED`,
    square: (side: string) => `THIS SQUARE IS ${side}`,
    brace: (name: string, length: string, width: string) => `${name}, ${length} x ${width}`,
    xAngle: (degrees: string) => `X opens ${degrees} deg toward the tail`,
    fromHoleEdge: (length: string) => `X crosses ${length} from the soundhole's edge`,
    fromHoleCentre: (length: string) => `X crosses ${length} from the soundhole's centre`,
  },
  /** the chosen brace */
  braceForm: brace,
  /** the top by numbers */
  top,
  /** under the lines to measure by of a page */
  pageTitle: (check: string, name: string, page: string) => `${check} · ${name}, ${page}`,
};
