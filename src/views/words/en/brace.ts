import type { ProfileShape } from '../../../brace/profile.ts';
import type { SectionShape } from '../../../brace/section.ts';
import type { EndName } from '../../../record/cut-place.ts';

/** An end of a brace, inside a sentence. */
export const ends: Readonly<Record<EndName, string>> = {
  tail: 'its tail end',
  neck: 'its neck end',
  bass: 'its bass end',
  treble: 'its treble end',
};

/** Side views of braces, of the plan and of stock alike. */
export const profileShapeWords: Readonly<Record<ProfileShape, string>> = {
  level: 'Level',
  tapered: 'Tapered ends',
  scalloped: 'Scalloped',
  parabolic: 'Parabolic',
};

export const sectionShapeWords: Readonly<Record<SectionShape, string>> = {
  rectangle: 'Rectangular',
  rounded: 'Rounded',
  parabola: 'Parabolic',
  'half-ellipse': 'Half round',
  triangle: 'Triangular',
};

/** One brace of the plan: its side view, its numbers, its heights and floors. */
export const brace = {
  sideView: (name: string) => `Side view of ${name}`,
  highest: (height: string) => `${height} at its highest`,
  /** the ends of the side view, as it is read */
  fromEndToEnd: (end: EndName, otherEnd: EndName) => `From ${ends[end]} (left) to ${ends[otherEnd]}.`,
  countedFrom: (end: EndName) => `Places are counted from ${ends[end]}.`,
  dashed: 'Dashed: before.',
  dotted: 'Dotted: floor.',

  belowFloor: (height: string, from: string, to: string, floor: string) =>
    `${height} between ${from} and ${to}, below its floor of ${floor}. Take no more off here.`,
  structural: 'This one carries the strings. Shave it last, and little.',
  section: 'Cross-section',
  sections: sectionShapeWords,
  ownStick: 'Stick it is made of',
  ownStickHint: 'A stick tapped in Wood has a stiffness of its own.',
  asAllBraces: 'as all braces of the plan',
  carriesLoad: 'Carries the string load',
  name: 'Name',
  removeBrace: 'Remove this brace',

  heights: 'Heights as glued',
  shavedSince: 'It has been shaved since: heights after a shaving are in the steps and win over these.',
  shapes: profileShapeWords,
  emptyRemoves: 'Empty a place to remove it.',
  addPlace: 'Add a place',

  floors: 'Floors: how low each stretch may become',
  remove: 'Remove',
  addFloor: 'Add a floor',
};
