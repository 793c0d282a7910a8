import { describe, expect, test } from 'vitest';
import { sheetDxf } from '../../src/record/plan-dxf.ts';
import { changeHand, mirroredPlan, startPlan, withPlan } from '../../src/record/plan-edit.ts';
import { importOutline } from '../../src/record/plan-import.ts';
import { planOutline } from '../../src/record/plan-outline.ts';
import { CHECK_MM, planSheet, profileSheet, type SheetWords } from '../../src/record/plan-sheet.ts';
import { sheetSvg } from '../../src/record/plan-svg.ts';
import { newRecord } from '../../src/record/record.ts';

const plan = startPlan('right');
/** Not English, so that a word of the drawing's own would show. */
const words: SheetWords = {
  bass: 'BASS-SEITE',
  treble: 'DISKANT-SEITE',
  seen: (face, mirrored, hand) => `von ${face}${mirrored ? ', gespiegelt' : ''}, ${hand}`,
  square: (sideMm) => `${sideMm} mm für ein Quadrat`,
  brace: (name, lengthMm, widthMm) => `${name}: ${lengthMm.toFixed(0)} x ${widthMm} mm`,
  crossing: ({ angleDeg }) => [`X zu ${angleDeg.toFixed(1)} Grad`],
};
const sheet = planSheet(plan, 'right', 'inside', false, words);

const around = (points: readonly (readonly [number, number])[]): number =>
  points.reduce((sum, [x, y], i) => {
    const [px, py] = points.at(i - 1)!;
    return sum + Math.hypot(x - px, y - py);
  }, 0);

/** Points of the paths in one layer of an SVG file. */
function svgLayer(svg: string, layer: string): readonly (readonly [number, number])[][] {
  const group = new RegExp(`<g id="${layer}">([\\s\\S]*?)</g>`).exec(svg)![1]!;
  return [...group.matchAll(/ d="M([^"]*?)Z?"/g)].map((match) =>
    match[1]!.split('L').map((pair) => pair.split(' ').map(Number) as [number, number]),
  );
}

test('spots to tap are numbered rings at full size, in their places on the sheet', () => {
  const spots = [
    [100, -50],
    [250, 40],
  ] as const;
  const spotted = planSheet(plan, 'right', 'outside', false, words, CHECK_MM, spots);
  const rings = spotted.lines.filter(({ layer }) => layer === 'SPOTS');
  const middle = rings.map(({ points }) =>
    [0, 1].map((i) => points.reduce((sum, p) => sum + p[i]!, 0) / points.length),
  );
  // From outside, neck up: across the sheet goes with y, up it with x.
  expect(middle[1]![0]! - middle[0]![0]!).toBeCloseTo(90, 6);
  expect(middle[1]![1]! - middle[0]![1]!).toBeCloseTo(-150, 6);
  const numbers = spotted.texts.filter(({ layer }) => layer === 'SPOTS');
  expect(numbers.map(({ text }) => text)).toEqual(['1', '2']);
  numbers.forEach(({ at }, i) => {
    expect(at[0]).toBeCloseTo(middle[i]![0]!, 6);
    expect(at[1]).toBeCloseTo(middle[i]![1]!, 6);
  });
});

describe('the sheet as SVG', () => {
  const svg = sheetSvg(sheet);

  test('is in millimetres: width and viewBox say the same', () => {
    const [, width, box] = /width="([\d.]+)mm".*viewBox="0 0 ([\d.]+) /.exec(svg)!;
    expect(width).toBe(box);
  });

  test('keeps the length of the outline: what is drawn is as long as what is cut', () => {
    // Points are written to a thousandth of a millimetre.
    expect(around(svgLayer(svg, 'OUTLINE')[0]!)).toBeCloseTo(around(planOutline(plan)), 1);
  });

  test('carries a square of 100 mm', () => {
    expect(around(svgLayer(svg, 'SCALE')[0]!)).toBeCloseTo(4 * CHECK_MM, 2);
  });

  test('says in the words it is given, in ASCII, how it is seen, how large the square is and what the braces are', () => {
    const texts = [...sheet.texts, ...profileSheet(plan, words).texts].map(({ text }) => text);
    const { name, widthMm } = plan.braces[0]!;
    expect(texts).toContain('100 mm fur ein Quadrat');
    expect(texts.filter((text) => text.startsWith(`${name}: `) && text.endsWith(` x ${widthMm} mm`))).toHaveLength(1);
    const own = [...plan.braces.map((brace) => brace.name), words.bass, words.treble, 'von inside, right'];
    expect(texts.filter((text) => !own.includes(text) && !/ fur ein |: \d+ x |^X zu /.test(text))).toEqual([]);
  });

  test('says from which side it is seen and which side is which', () => {
    expect(svg).toContain('von inside, right');
    const treble = sheet.texts.find(({ text }) => text === words.treble)!;
    const bass = sheet.texts.find(({ text }) => text === words.bass)!;
    // Seen from inside with the neck up, a right-handed top has its treble side on the left.
    expect(treble.at[0]).toBeLessThan(bass.at[0]);
    const outside = planSheet(plan, 'right', 'outside', false, words).texts;
    expect(outside.find(({ text }) => text === words.treble)!.at[0]).toBeGreaterThan(
      outside.find(({ text }) => text === words.bass)!.at[0],
    );
  });
});

describe('side views', () => {
  test('side views are true in length and height', () => {
    const views = profileSheet(plan, words).lines.filter(({ layer }) => layer === 'PROFILES');
    expect(views).toHaveLength(plan.braces.length);
    const [first] = views;
    const xs = first!.points.map(([x]) => x);
    const ys = first!.points.map(([, y]) => y);
    const { from, to, profile } = plan.braces[0]!;
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(Math.hypot(from.xMm - to.xMm, from.yMm - to.yMm), 6);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(Math.max(...profile.map((p) => p.heightMm)), 6);
  });
});

describe('DXF', () => {
  const dxf = sheetDxf(sheet);

  test('is pairs of code and value with one section of entities, ASCII only', () => {
    const lines = dxf.trimEnd().split('\n');
    expect(lines.length % 2).toBe(0);
    expect(lines.slice(0, 4)).toEqual(['0', 'SECTION', '2', 'ENTITIES']);
    expect(lines.slice(-4)).toEqual(['0', 'ENDSEC', '0', 'EOF']);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
    expect(/^[\x00-\x7f]*$/.test(dxf)).toBe(true);
  });

  test('comes back as the same outline when it is read in', () => {
    const read = importOutline('plan.dxf', dxf);
    expect(read.kind).toBe('outline');
    if (read.kind !== 'outline') return;
    expect(around(read.points.map(({ xMm, yMm }) => [xMm, yMm] as const))).toBeCloseTo(around(planOutline(plan)), 1);
  });
});

describe('an outline from elsewhere', () => {
  test('of an SVG in millimetres is taken at its size, neck up', () => {
    const svg = '<svg width="100mm" viewBox="0 0 200 400"><path d="M0 0h200v400h-200z"/></svg>';
    const read = importOutline('box.svg', svg);
    expect(read).toEqual({
      kind: 'outline',
      points: [
        { xMm: 200, yMm: -50 },
        { xMm: 200, yMm: 50 },
        { xMm: 0, yMm: 50 },
        { xMm: 0, yMm: -50 },
      ],
    });
  });

  test('with curves is as long as its curves: a circle of four cubics', () => {
    const k = 0.5523 * 50;
    const d = `M50 0C50 ${k} ${k} 50 0 50S-50 ${k} -50 0 ${-k} -50 0 -50 50 ${-k} 50 0z`;
    const read = importOutline('circle.svg', `<svg width="10mm" viewBox="0 0 10 10"><path d="${d}"/></svg>`);
    expect(read.kind).toBe('outline');
    if (read.kind !== 'outline') return;
    // 48 chords of a circle are 0.07 % short of it, the cubics 0.03 % off.
    expect(around(read.points.map(({ xMm, yMm }) => [xMm, yMm] as const)) / (2 * Math.PI * 50)).toBeCloseTo(1, 2);
  });

  test('is refused with a reason where there is none', () => {
    expect(importOutline('a.svg', '<svg><rect/></svg>')).toEqual({ kind: 'refused', because: 'no-path' });
    expect(importOutline('a.svg', '<svg><path d="M0 0L1 1"/></svg>')).toEqual({
      kind: 'refused',
      because: 'too-few-points',
    });
  });
});

describe('the other hand', () => {
  test('mirrors everything asymmetric and keeps which hand; twice gives the record back', () => {
    const record = withPlan(newRecord({ id: 'a', createdAtIso: '2026-01-01T00:00:00.000Z', name: 'Top' }), plan);
    const left = changeHand(record);
    expect(left.hand).toBe('left');
    expect(left.plan!.braces.find(({ id }) => id === 'tone-1')!.to.yMm).toBe(
      -plan.braces.find(({ id }) => id === 'tone-1')!.to.yMm,
    );
    expect(changeHand(left)).toEqual(record);
    expect(mirroredPlan(mirroredPlan(plan))).toEqual(plan);
  });
});
