import type { BODY_STATIONS } from '../../../plate/body-outline.ts';
import type { PlateFault } from '../../../plate/plate-check.ts';
import type { ImportedOutline } from '../../../record/plan-import.ts';

/** A constant of a wood that can be measured on a piece. */
type WoodKey = 'eLongGpa' | 'eCrossGpa' | 'shearGpa' | 'densityKgM3';

const constants: Readonly<Record<WoodKey, string>> = {
  eLongGpa: 'Stiffness along (GPa)',
  eCrossGpa: 'Stiffness across (GPa)',
  shearGpa: 'Shear (GPa)',
  densityKgM3: 'Density (kg/m³)',
};

const measured: Readonly<Record<WoodKey, string>> = {
  eLongGpa: 'stiffness along',
  eCrossGpa: 'stiffness across',
  shearGpa: 'shear',
  densityKgM3: 'density',
};

const bodies: Readonly<Record<keyof typeof BODY_STATIONS, string>> = {
  'small parlour': 'Small parlour body',
  concert: 'Concert body',
  large: 'Large body',
};

const refused: Readonly<Record<Extract<ImportedOutline, { kind: 'refused' }>['because'], string>> = {
  'no-path': 'No closed path or polyline was found in this file. Nothing was changed.',
  'too-few-points': 'The longest path has fewer than three points. Nothing was changed.',
  'too-large': 'This drawing is too large: an outline needs a few hundred points. Nothing was changed.',
  'not-a-number': 'The longest path holds something that is not a number, or one too large. Nothing was changed.',
  'absurd-size': 'No instrument has an outline of this size: the drawing is meant in millimetres. Nothing was changed.',
};

const leftOut = 'It is left out of the forecast.';

/** A fault of the drawing as a sentence. @param brace the name of the brace that has it */
function fault(of: PlateFault, brace: string): string {
  switch (of.part) {
    case 'outline':
      return {
        'too-few-points':
          'There is no outline: it has fewer than three points, or its widths are not in order from tail to neck.',
        'crosses-itself': 'The outline crosses itself.',
        'no-area': 'The outline encloses nothing.',
        'absurd-size': 'No instrument has an outline of this size.',
        'not-a-number': 'The outline holds something that is not a number.',
      }[of.because];
    case 'plate':
      return {
        'thickness-not-positive': 'The plate has no thickness.',
        'absurd-thickness': 'No top has this thickness.',
        'absurd-material': 'No wood has the constants given for the plate.',
      }[of.because];
    case 'soundhole':
      return {
        'outside-outline': `The soundhole reaches over the outline. ${leftOut}`,
        'radius-not-positive': `The soundhole has no radius. ${leftOut}`,
      }[of.because];
    case 'brace':
      return `${brace}: ${
        {
          'outside-outline': `lies outside the outline. ${leftOut}`,
          'reaches-over-rim': 'reaches over the rim; it is cut off there.',
          'no-length': `has no length. ${leftOut}`,
          'width-not-positive': `has no width. ${leftOut}`,
          'absurd-size': `has a width or a height that no brace has. ${leftOut}`,
          'no-heights': `has no heights. ${leftOut}`,
          'height-not-positive': `has a height of nought or below. ${leftOut}`,
          'heights-out-of-order': `has heights at places that are not in order. ${leftOut}`,
          'absurd-material': `no wood has the constants given. ${leftOut}`,
          'crosses-soundhole': 'crosses the soundhole.',
          'inside-soundhole': `lies wholly within the soundhole, where there is no plate to glue it on. ${leftOut}`,
        }[of.because]
      }`;
    case 'patch': {
      const patch = of.id === 'bridge' ? 'The bridge' : 'The bridge plate';
      return {
        'outside-outline': `${patch} lies outside the outline. ${leftOut}`,
        'inside-soundhole': `${patch} lies wholly within the soundhole, where there is no plate to glue it on. ${leftOut}`,
        'crosses-itself': `${patch} has no area. ${leftOut}`,
        'thickness-not-positive': `${patch} has no thickness. ${leftOut}`,
        'absurd-thickness': `${patch} has a thickness that none has. ${leftOut}`,
        'absurd-material': `${patch} has constants that no wood has. ${leftOut}`,
      }[of.because];
    }
  }
}

/** The top by numbers: outline, soundhole, scale, bridge, thickness, woods; and what is wrong with a drawing. */
export const top = {
  title: 'Outline, soundhole, bridge and woods',
  soundhole: 'Soundhole',
  scaleAndSaddle: 'Scale and saddle',
  bridge: 'Bridge',
  bridgePlate: 'Bridge plate',
  plateAndRim: 'Plate and rim',
  rimHint: 'N m/rad per m: 0 is a hinge, some hundreds hold firmly',

  outline: 'Outline',
  bodies,
  fromFile: 'Take it from a file',
  refused,
  fromSource: (source: string, points: number) => `From ${source}, ${points} points, tail at 0.`,
  fileHint: 'SVG: the longest closed path, neck up. DXF R12: the longest polyline, millimetres.',

  plateWood: 'Wood of the plate',
  braceWood: 'Wood of the braces',
  measuredPiece: 'Measured piece',
  noPiece: 'none: by its wood alone',
  wood: 'Wood',
  constants,
  fromHandbook: (wood: string) =>
    `${wood}, from the handbook or as typed, each figure within the spread stated; a tapped board knows better.`,
  bothHalves: (one: string, other: string) => `joined from ${one} and ${other}`,
  fromHalves: (one: string, other: string) =>
    `The mean of “${one}” and “${other}”; what the halves differ by is in the ±. What was read of neither is from the handbook.`,
  fromPiece: (piece: string, keys: readonly WoodKey[]) =>
    `Measured on “${piece}”: ${keys.map((key) => measured[key]).join(', ')}.${
      keys.length < Object.keys(measured).length ? ' The rest is from the handbook.' : ''
    }`,

  fault,
};
