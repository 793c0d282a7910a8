// What the page says of entries and rounds that cannot be right: the sentence names what contradicts what.
import { describe, expect, test } from 'vitest';
import { cavityOf } from '../../src/compare/box-cavity.ts';
import { readBox } from '../../src/compare/box-reading.ts';
import type { BoxState } from '../../src/compare/box-state.ts';
import { boxWords } from '../../src/views/box/words.ts';
import { woodWords } from '../../src/views/wood/words.ts';
import { readBoard } from '../../src/wood/board-constants.ts';
import { boardModes } from '../../src/wood/board-modes.ts';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { speciesById } from '../../src/wood/species.ts';
import { boxRecord } from '../compare/box-story.ts';

const start = elasticStart(speciesById('sitka-spruce'));
const measured = (value: number) => ({ value, sigma: 0.002 * value });

interface Typed {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly massG: number;
  readonly longHz: number;
  readonly crossHz: number;
  readonly twistHz: number;
}

/** A spruce board as it should have been typed. */
function right(lengthMm: number, widthMm: number, thicknessMm: number): Typed {
  const shear = { longPa: 0.67e9, crossPa: 0.033e9 };
  const modes = boardModes(
    { lengthM: lengthMm / 1000, widthM: widthMm / 1000, thicknessM: thicknessMm / 1000 },
    { eLongPa: 11e9, eCrossPa: 0.85e9, gPa: 0.76e9, nuLR: 0.372, shear },
    410,
  );
  const hz = (m: number, n: number) => modes.find(({ pattern }) => pattern.m === m && pattern.n === n)!.frequencyHz;
  const massG = lengthMm * widthMm * thicknessMm * 410e-6;
  return { lengthMm, widthMm, thicknessMm, massG, longHz: hz(2, 0), crossHz: hz(0, 2), twistHz: hz(1, 1) };
}

/** Every sentence the page would show for the entries. */
function said(typed: Typed): readonly string[] {
  const reading = readBoard(
    {
      board: {
        lengthMm: measured(typed.lengthMm),
        widthMm: measured(typed.widthMm),
        thicknessMm: measured(typed.thicknessMm),
        massG: measured(typed.massG),
      },
      taps: {
        'long-grain-bending': { frequencyHz: measured(typed.longHz) },
        'cross-grain-bending': { frequencyHz: measured(typed.crossHz) },
        twist: { frequencyHz: measured(typed.twistHz) },
      },
    },
    start,
  );
  if (reading.kind === 'not-wood')
    return [
      woodWords().codes.suspectHead(reading.suspects[0]!),
      ...reading.suspects.map((suspect) => woodWords().codes.suspect(suspect, (_, value) => value.toPrecision(3))),
    ];
  return reading.kind === 'read'
    ? reading.warnings.map((one) => woodWords().codes.warning(one, (mm) => `${mm.toFixed(0)} mm`))
    : [];
}

const half = right(550, 210, 4);

describe('a board', () => {
  test.each<readonly [string, Typed, string, string]>([
    ['mass in ounces', { ...half, massG: half.massG / 28.35 }, 'density', 'The mass looks as if typed in other units.'],
    ['thickness in inches', { ...half, thicknessMm: 4 / 25.4 }, 'density', 'The thickness looks as if typed in other'],
    ['length a tenth', { ...half, lengthMm: 55 }, 'density', 'The decimal point of the length looks one place off.'],
    [
      'the bends exchanged',
      { ...half, longHz: half.crossHz, crossHz: half.longHz },
      'stiffness along the grain',
      'The long-grain bending and the cross-grain bending look exchanged.',
    ],
  ])('%s: what no wood has, and which entry is most likely wrong', (_, typed, has, likely) => {
    const [head, first] = said(typed);
    expect(head).toContain(`No wood has the ${has} these entries give`);
    expect(first).toContain(likely);
  });

  test('bend and twist exchanged on a board where both would still be wood: the page asks which was tapped how', () => {
    const wide = right(520, 300, 3);
    const [first] = said({ ...wide, crossHz: wide.twistHz, twistHz: wide.crossHz });
    expect(first).toContain('If the cross-grain bending and the twist were exchanged');
    expect(said(wide).filter((sentence) => sentence.includes('exchanged'))).toEqual([]);
  });
});

const lumpOff: Partial<Record<BoxState, readonly number[]>> = { mass: [98, 182, 227] };

describe('a closed box', () => {
  const reading = (states: readonly BoxState[], peaksHz: Partial<Record<BoxState, readonly number[]>>) => {
    const record = boxRecord(states, { peaksHz });
    return readBox(record, record.steps[0]!);
  };
  const contradictionsOf = (states: readonly BoxState[], peaksHz: Partial<Record<BoxState, readonly number[]>>) => {
    const { found, solvedRounds } = reading(states, peaksHz);
    return found?.kind === 'contradicted'
      ? found.contradictions.map((one) => boxWords().codes.contradiction(one, solvedRounds))
      : [];
  };

  test.each<readonly [string, Partial<Record<BoxState, readonly number[]>>, string, string]>([
    [
      'hole blocked below the open peaks: which peak of which round lies below which of which',
      { open: [110, 182, 227], blocked: [105, 220] },
      '105.0',
      'in “Box as it is”',
    ],
    ['hole blocked above the open peaks', { open: [98, 182, 227], blocked: [176, 240] }, '240.0', '227.0'],
    [
      'a mass that pulled a peak past the one under it',
      { open: [98, 182, 227], mass: [98, 170, 178] },
      '178.0',
      'A mass cannot pull a peak past the one under it',
    ],
    ['a lump that raised a peak', { open: [98, 182, 227], mass: [98, 190, 227] }, '190.0', 'An added mass can raise'],
  ])('%s', (_, peaksHz, one, other) => {
    const states: readonly BoxState[] = peaksHz.mass === undefined ? ['open', 'blocked'] : ['open', 'mass'];
    const sentences = contradictionsOf(states, peaksHz).map((text) => text.replaceAll('\u00a0', ' '));
    const sentence = sentences.find((text) => text.includes(one));
    expect(sentence).toContain(other);
    expect(sentence).toContain('“Box as it is”');
  });

  test('a mass that moved nothing is named with its round, and what to do is said', () => {
    const { found, solvedRounds } = reading(['open', 'blocked', 'mass'], {
      open: [98, 182, 227],
      blocked: [176, 225],
      ...lumpOff,
    });
    expect(found).toMatchObject({ kind: 'not-measurable', because: 'mass-moved-nothing' });
    if (found?.kind !== 'not-measurable') return;
    const sentence = boxWords().codes.notMeasurable(found, solvedRounds);
    expect(sentence).toContain('The mass in “Known mass at the bridge” moved no peak');
    expect(sentence).toContain('Use a heavier lump');
  });

  test('a hole that moved no plate: they block no volume', () => {
    const { found, solvedRounds } = reading(['open', 'blocked'], { open: [98, 182, 227], blocked: [182, 227] });
    expect(found).toMatchObject({ kind: 'not-measurable', because: 'blocking-moved-nothing' });
    if (found?.kind !== 'not-measurable') return;
    const sentence = boxWords().codes.notMeasurable(found, solvedRounds);
    expect(sentence).toContain('“Hole blocked”');
    expect(sentence).toContain('Top and back press on no air that can be read');
  });

  test('a hole that was not closed: the air is still there, and its round is not used', () => {
    const { doubts, solvedRounds } = reading(['open', 'blocked'], { open: [98, 182, 227], blocked: [98, 182] });
    expect(doubts).toMatchObject([{ kind: 'hole-not-blocked', roundId: 'round-blocked', airHz: { value: 98 } }]);
    expect(solvedRounds.map(({ state }) => state)).toEqual(['open']);
  });

  test('names that cannot be: an air peak with the hole blocked, an air above the top', () => {
    const base = boxRecord(['open', 'blocked'], { peaksHz: { open: [98, 182, 227], blocked: [176, 225] } });
    const named = (state: BoxState, frequencyHz: number, part: 'air' | 'top') => ({
      id: `${state}-${frequencyHz}`,
      roundId: `round-${state}`,
      frequencyHz,
      part,
    });
    const sentencesOf = (...peaks: ReturnType<typeof named>[]) => {
      const record = { ...base, box: { ...base.box, peaks } };
      const { found, solvedRounds } = readBox(record, record.steps[0]!);
      return found?.kind === 'contradicted'
        ? found.contradictions.map((one) => boxWords().codes.contradiction(one, solvedRounds)).join(' ')
        : '';
    };
    expect(sentencesOf(named('blocked', 176, 'air'))).toContain('is called air, but the hole was blocked there');
    expect(sentencesOf(named('open', 98, 'top'), named('open', 182, 'air'))).toContain(
      'The air’s peak is always the lowest',
    );
  });

  test('a volume below nothing is named as what it is', () => {
    expect(boxWords().codes.noVolume(-3, 0)).toContain('said to hold −3.0 litres');
    expect(boxWords().codes.noVolume(14, 40)).toContain('fill 40.0 litres, but the empty box holds only 14.0');
  });

  test('blocks that fill more than the box holds leave no volume, and both figures are named', () => {
    const cavity = cavityOf(
      {
        from: 'outline',
        bodyLengthMm: 490,
        lowerBoutMm: 385,
        waistMm: 240,
        upperBoutMm: 285,
        tailDepthMm: 105,
        neckDepthMm: 90,
        occupiedL: 40,
        holeRadiusMm: 50,
        holeEdgeMm: 3,
      },
      undefined,
    );
    expect(cavity).toMatchObject({ kind: 'no-volume', occupiedL: 40 });
    // 490 x 385 x 98 mm is 18.5 l; a body fills 70 to 80 % of its box (common practice)
    if (cavity.kind === 'no-volume') expect(cavity.emptyL).toBeGreaterThan(11);
  });
});
