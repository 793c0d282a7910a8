// Words of the plan and the forecast.
import type { PlateFault } from '../plate/plate-check.ts';
import type { Pattern } from '../record/plan-patterns.ts';
import type { ProfileShape } from '../record/plan-profile.ts';
import { measuredOn } from '../record/plan-wood.ts';
import type { InstrumentRecord, Plan, PlanBrace, PlanWood } from '../record/record.ts';

/** From which side the drawing is seen. */
export type Face = 'inside' | 'outside';

export const faceWords: Readonly<Record<Face, string>> = { inside: 'inside', outside: 'outside' };

export const patternWords: Readonly<Record<Pattern, string>> = {
  x: 'X with tone bars and finger braces',
  ladder: 'Ladder',
  fan: 'Fan',
  lattice: 'Lattice',
};

export const shapeWords: Readonly<Record<ProfileShape, string>> = {
  level: 'Level',
  tapered: 'Tapered ends',
  scalloped: 'Scalloped',
  parabolic: 'Parabolic',
};

export const sectionWords: Readonly<Record<PlanBrace['section'], string>> = {
  rectangle: 'Rectangular',
  rounded: 'Rounded',
  triangle: 'Triangular',
  parabola: 'Parabolic',
};

/** Which side of the screen carries the bass strings: on the left from outside for a right-handed player. */
export function sideWords(hand: InstrumentRecord['hand'], face: Face): readonly [left: string, right: string] {
  return (hand === 'right') === (face === 'outside') ? ['Bass side', 'Treble side'] : ['Treble side', 'Bass side'];
}

const constantWords: Readonly<Record<ReturnType<typeof measuredOn>[number], string>> = {
  eLongGpa: 'stiffness along',
  eCrossGpa: 'stiffness across',
  shearGpa: 'shear',
  densityKgM3: 'density',
};

/** Where the constants of a wood come from. */
export function woodSourceWords(record: InstrumentRecord, wood: PlanWood): string {
  const piece = record.pieces?.find(({ id }) => id === wood.pieceId);
  if (piece === undefined)
    return `${wood.name}, from the handbook or as typed, each figure within the spread stated; a tapped board knows better.`;
  const all = Object.keys(constantWords).length;
  const measured = measuredOn(piece);
  return `Measured on “${piece.name}”: ${measured.map((key) => constantWords[key]).join(', ')}.${
    measured.length < all ? ' The rest is from the handbook.' : ''
  }`;
}

/** A fault of the drawing as a sentence. */
export function faultWords(fault: PlateFault, plan: Plan): string {
  switch (fault.part) {
    case 'outline':
      return {
        'too-few-points':
          'There is no outline: it has fewer than three points, or its widths are not in order from tail to neck.',
        'crosses-itself': 'The outline crosses itself.',
        'no-area': 'The outline encloses nothing.',
        'absurd-size': 'No instrument has an outline of this size: it is meant in millimetres.',
        'not-a-number': 'The outline holds something that is not a number.',
      }[fault.because];
    case 'plate':
      return {
        'thickness-not-positive': 'The plate has no thickness.',
        'absurd-thickness': 'No top has this thickness: it is meant in millimetres.',
        'absurd-material': 'No wood has the constants given for the plate.',
      }[fault.because];
    case 'soundhole':
      return {
        'outside-outline': 'The soundhole reaches over the outline. It is left out of the forecast.',
        'radius-not-positive': 'The soundhole has no radius. It is left out of the forecast.',
      }[fault.because];
    case 'brace': {
      const name = plan.braces.find((brace) => brace.id === fault.id)?.name ?? fault.id;
      return `${name}: ${
        {
          'outside-outline': 'lies outside the outline. It is left out of the forecast.',
          'reaches-over-rim': 'reaches over the rim; it is cut off there.',
          'no-length': 'has no length. It is left out of the forecast.',
          'width-not-positive': 'has no width. It is left out of the forecast.',
          'absurd-size':
            'has a width or a height that no brace has: they are meant in millimetres. It is left out of the forecast.',
          'no-heights': 'has no heights. It is left out of the forecast.',
          'height-not-positive': 'has a height of nought or below. It is left out of the forecast.',
          'heights-out-of-order': 'has heights at places that are not in order. It is left out of the forecast.',
          'absurd-material': 'no wood has the constants given. It is left out of the forecast.',
          'crosses-soundhole': 'crosses the soundhole.',
        }[fault.because]
      }`;
    }
    case 'patch':
      return `${fault.id === 'bridge' ? 'The bridge' : 'The bridge plate'} ${
        {
          'outside-outline': 'lies outside the outline. It is left out of the forecast.',
          'crosses-itself': 'has no area. It is left out of the forecast.',
          'thickness-not-positive': 'has no thickness.',
          'absurd-thickness':
            'has a thickness that none has: it is meant in millimetres. It is left out of the forecast.',
          'absurd-material': 'has constants that no wood has. It is left out of the forecast.',
        }[fault.because]
      }`;
  }
}
