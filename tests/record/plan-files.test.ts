// Sheets of a rectangular top, place by place, and the files they are written to. The top is 400 by 300 mm, neck up: the drawing is 300
// wide and 400 high, and begins at a margin of 12 mm. Sources: W3C SVG 1.1; DXF R12 reference (AC1009).
import { describe, expect, test } from 'vitest';
import { sheetDxf } from '../../src/record/plan-dxf.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { planSheet, profileSheet } from '../../src/record/plan-sheet.ts';
import { pathData, sheetSvg } from '../../src/record/plan-svg.ts';
import type { Plan, PlanBrace } from '../../src/record/record.ts';
import type { Sheet } from '../../src/record/sheet.ts';
import { once } from '../once.ts';
import { rectangular } from './small-record.ts';

const started = startPlan('right');
const bar: PlanBrace = {
  ...started.braces[0]!,
  ...{ id: 'b', name: 'Bär', section: 'rectangle', widthMm: 8 },
  from: { xMm: 100, yMm: 30 },
  to: { xMm: 100, yMm: 130 },
  profile: [
    { atMm: 0, heightMm: 4 },
    { atMm: 30, heightMm: 12 },
    { atMm: 100, heightMm: 6 },
  ],
};
const plan: Plan = {
  ...started,
  outline: rectangular(400, 300),
  soundhole: { xMm: 280, yMm: 0, radiusMm: 50 },
  ...{ scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 2, setbackBassMm: 4, stringSpreadMm: 56 },
  bridge: { ...started.bridge, alongMm: 30, acrossMm: 150 },
  bridgePlate: { ...started.bridgePlate, alongMm: 45, acrossMm: 140 },
  braces: [bar],
};
const words = {
  bass: 'Bass',
  treble: 'Treble',
  seen: (face: string, mirrored: boolean, hand: string) => `${face} ${mirrored} ${hand}`,
  square: (sideMm: number) => `${sideMm}`,
  brace: (name: string, lengthMm: number, widthMm: number) => `${name} ${lengthMm.toFixed(0)} ${widthMm}`,
  crossing: () => [],
};
const drawn = once(() => planSheet(plan, 'right', 'inside', false, words));
const layer = (sheet: Sheet, name: string) => sheet.lines.filter((line) => line.layer === name);
const boxOf = (sheet: Sheet, name: string) => {
  const points = layer(sheet, name).flatMap((line) => line.points);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
};
const near = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 6));

describe('the sheet of a top, seen from inside', () => {
  // A place x, y of the top lies at 12 + 150 - y, 12 + 400 - x of the sheet: neck up, treble on the left.
  test.each([
    ['OUTLINE', [12, 12, 312, 412], true],
    ['CENTRE', [162, 12, 162, 412], false],
    ['SOUNDHOLE', [112, 82, 212, 182], true],
    // The saddle stands 322 mm behind the neck end at the treble, 324 at the bass.
    ['SADDLE', [134, 334, 190, 336], false],
    // A third of the bridge lies ahead of the middle of the saddle, at 335 of the sheet.
    ['BRIDGE', [87, 325, 237, 355], true],
    ['BRIDGEPLATE', [92, 320, 232, 365], true],
    ['BRACES', [32, 308, 132, 316], true],
  ] as const)('%s', (name, expected, closed) => {
    expect(boxOf(drawn(), name)).toEqual(near(expected));
    expect(layer(drawn(), name).map((line) => line.closed)).toEqual([closed]);
  });

  test('the treble end of the saddle is the one nearer to the neck, on the left', () => {
    expect(layer(drawn(), 'SADDLE')[0]!.points.flat()).toEqual(near([134, 334, 190, 336]));
  });

  test('has names in the middle of what they name', () => {
    expect(drawn().texts.map(({ text, at }) => [text, ...at.map((mm) => Math.round(mm * 1e6) / 1e6)])).toEqual([
      ['Bar', 82, 312],
      ['Treble', 102, 372],
      ['Bass', 222, 372],
      ['inside false right', 162, 390],
      ['100', 62, drawn().heightMm - 62],
    ]);
    for (const { layer: on, heightMm } of drawn().texts.slice(0, -1)) {
      expect(on).toBe('TEXT');
      expect(heightMm).toBeGreaterThan(3);
    }
    expect(drawn().texts.at(-1)!.layer).toBe('SCALE');
  });

  test('is as large as what is on it, with a margin all round and the square below', () => {
    expect(drawn().widthMm).toBeCloseTo(324, 9);
    const [x0, y0, x1, y1] = boxOf(drawn(), 'SCALE') as [number, number, number, number];
    expect([x0, x1 - x0, y1 - y0]).toEqual(near([12, 100, 100]));
    expect(y0).toBeGreaterThanOrEqual(412 + 12);
    expect(drawn().heightMm).toBeCloseTo(y1 + 12, 9);
  });
});

describe('which way round', () => {
  const braceAt = (...asked: Parameters<typeof planSheet> extends [unknown, ...infer R] ? R : never) =>
    boxOf(planSheet(plan, ...asked), 'BRACES')[0];
  test('from outside the treble lies on the right, mirrored the other way, both together as from inside', () => {
    expect(braceAt('right', 'inside', false, words)).toBeCloseTo(32, 6);
    expect(braceAt('right', 'inside', true, words)).toBeCloseTo(192, 6);
    expect(braceAt('right', 'outside', false, words)).toBeCloseTo(192, 6);
    expect(braceAt('right', 'outside', true, words)).toBeCloseTo(32, 6);
  });

  test('for a left hand saddle and words change sides, the drawn braces are where they were drawn', () => {
    const left = planSheet(plan, 'left', 'inside', false, words);
    expect(boxOf(left, 'BRACES')).toEqual(boxOf(drawn(), 'BRACES'));
    expect(layer(left, 'SADDLE')[0]!.points.flat()).toEqual(near([190, 334, 134, 336]));
    expect(left.texts.find(({ text }) => text === 'Treble')!.at[0]).toBeCloseTo(222, 6);
    expect(left.texts.find(({ text }) => text === 'Bass')!.at[0]).toBeCloseTo(102, 6);
    expect(left.texts.some(({ text }) => text === 'inside false left')).toBe(true);
  });
});

test('a top without hole, a brace without length, an outline that is not there: the rest is drawn', () => {
  const { soundhole: _hole, ...closed } = plan;
  expect(layer(planSheet(closed, 'right', 'inside', false, words), 'SOUNDHOLE')).toEqual([]);
  const none = { ...plan, braces: [{ ...bar, to: bar.from }] };
  expect(layer(planSheet(none, 'right', 'inside', false, words), 'BRACES')).toEqual([]);
  const nothing: Plan = { ...plan, outline: { kind: 'points', source: '', points: [] } };
  const sheet = planSheet(nothing, 'right', 'inside', false, words);
  expect(Number.isFinite(sheet.widthMm) && Number.isFinite(sheet.heightMm)).toBe(true);
  expect(layer(sheet, 'BRACES')).toHaveLength(1);
});

describe('side views', () => {
  const low = { ...bar, id: 'c', name: 'Low', profile: [{ atMm: 50, heightMm: 5 }] };
  const odd = [
    { ...bar, id: 'd', name: 'Point', to: bar.from },
    { ...bar, id: 'e', name: 'Flat', profile: [] },
  ];
  const views = profileSheet({ ...plan, braces: [bar, ...odd, low] }, words);

  test('are true in length and height, one below the other', () => {
    const [first, second] = layer(views, 'PROFILES').map(({ points }) => points);
    // 12 high: from its margin down to 24, then 5 + 12 further down the base of the next.
    expect(first!.flat()).toEqual(near([12, 24, 12, 20, 42, 12, 112, 18, 112, 24]));
    expect(second!.flat()).toEqual(near([12, 41, 12, 36, 62, 36, 112, 36, 112, 41]));
    expect(layer(views, 'PROFILES').every(({ closed }) => closed)).toBe(true);
  });

  test('places of a profile at or beyond the ends of the brace are no corners of its own', () => {
    const beyond = {
      ...bar,
      profile: [
        { atMm: -10, heightMm: 4 },
        { atMm: 0, heightMm: 8 },
        { atMm: 100, heightMm: 8 },
        { atMm: 120, heightMm: 4 },
      ],
    };
    const [view] = layer(profileSheet({ ...plan, braces: [beyond] }, words), 'PROFILES');
    expect(view!.points.flat()).toEqual(near([12, 20, 12, 12, 112, 12, 112, 20]));
  });

  test('say what they are in the middle below them', () => {
    const slanted = { ...bar, to: { xMm: 160, yMm: 110.5 } };
    expect(views.texts.filter((text) => text.layer === 'TEXT').map(({ text, at }) => [text, ...at])).toEqual([
      ['Bar 100 8', 62, 27.5],
      ['Low 100 8', 62, 44.5],
    ]);
    // 60 and 80.5 mm: 100.4.
    expect(profileSheet({ ...plan, braces: [slanted] }, words).texts[0]!.text).toBe('Bar 100 8');
  });

  test('of no brace are a sheet with the square alone', () => {
    const empty = profileSheet({ ...plan, braces: [] }, words);
    expect(empty.lines.map((line) => line.layer)).toEqual(['SCALE']);
    expect(empty.widthMm).toBe(124);
    expect(Number.isFinite(empty.heightMm)).toBe(true);
  });
});

test('the check square stands just below the drawing, whatever its side', () => {
  const sheet = planSheet(plan, 'right', 'inside', false, words, 101.6);
  const [x0, y0, x1, y1] = boxOf(sheet, 'SCALE') as [number, number, number, number];
  expect([x0, y0, x1 - x0, y1 - y0]).toEqual(near([12, 424, 101.6, 101.6]));
  expect(sheet.texts.at(-1)!.text).toBe('101.6');
});

const small: Sheet = {
  widthMm: 50,
  heightMm: 40.00049,
  lines: [
    {
      layer: 'A',
      closed: true,
      points: [
        [1, 2],
        [3.12345, 2],
        [3, 4],
      ],
    },
    {
      layer: 'B',
      closed: false,
      points: [
        [0, 0],
        [5, 0],
      ],
    },
    { layer: 'B', closed: false, points: [[9, 9]] },
    { layer: 'B', closed: true, points: [] },
  ],
  texts: [
    { layer: 'A', at: [10, 20.12345], angleDeg: 30, heightMm: 4, text: 'x < y & z > 1', places: [] },
    { layer: 'C', at: [1, 1], angleDeg: 0, heightMm: 5, text: 'alone', places: [] },
  ],
};

describe('as SVG', () => {
  const text = sheetSvg(small);
  const parsed = (name: string) => new RegExp(`<g id="${name}">\n([\\s\\S]*?)\n</g>`).exec(text)![1]!.split('\n');

  test('path data goes through its points, to a thousandth, closed where the line is', () => {
    expect(pathData(small.lines[0]!.points, true)).toBe('M1 2L3.123 2L3 4Z');
    expect(pathData(small.lines[1]!.points, false)).toBe('M0 0L5 0');
    expect(pathData([], true)).toBe('');
  });

  test('one user unit is one millimetre', () => {
    expect(
      text.startsWith('<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 50 40" '),
    ).toBe(true);
    expect(text.endsWith('</svg>\n')).toBe(true);
    // Lines only, thin enough to cut along.
    expect(text).toContain('fill="none" stroke="black" stroke-width="0.2"');
  });

  test('each layer is a group with its own lines and words, none twice', () => {
    expect([...text.matchAll(/<g id="(.)">/g)].map(([, id]) => id)).toEqual(['A', 'B', 'C']);
    expect(parsed('A')).toEqual([
      '<path d="M1 2L3.123 2L3 4Z"/>',
      // Set about its middle: letters stand 0.7 of the type above their line.
      expect.stringMatching(
        /^<text transform="translate\(10 20.123\) rotate\(30\) translate\(0 1.4\)" font-size="4" .*>x &lt; y &amp; z &gt; 1<\/text>$/,
      ),
    ]);
    expect(parsed('B')).toEqual(['<path d="M0 0L5 0"/>', '<path d="M9 9"/>']);
    expect(parsed('C')).toEqual([expect.stringMatching(/text-anchor="middle" fill="black" stroke="none">alone</)]);
  });
});

describe('as DXF', () => {
  /** Entities as lists of codes and values. */
  const entities = once(() => {
    const lines = sheetDxf(small).split('\n');
    const found: (readonly (string | number | undefined)[])[][] = [];
    for (let i = 0; i + 1 < lines.length; i += 2) {
      const pair = [Number(lines[i]), lines[i + 1]];
      if (pair[0] === 0) found.push([pair]);
      else found.at(-1)!.push(pair);
    }
    return found;
  });

  test('turns y up, and leaves out what is no line', () => {
    const up = '40.00049';
    expect(entities().map(([head]) => head![1])).toEqual([
      'SECTION',
      ...['POLYLINE', 'VERTEX', 'VERTEX', 'VERTEX', 'SEQEND'],
      ...['POLYLINE', 'VERTEX', 'VERTEX', 'SEQEND'],
      ...['LINE', 'TEXT', 'TEXT', 'ENDSEC', 'EOF'],
    ]);
    expect(entities()[1]!.slice(1)).toEqual([
      [8, 'A'],
      [66, '1'],
      [70, '1'],
    ]);
    expect(entities()[6]!.slice(1)).toEqual([
      [8, 'B'],
      [66, '1'],
      [70, '0'],
    ]);
    expect(entities()[3]!.slice(1)).toEqual([
      [8, 'A'],
      [70, '0'],
      [10, '3.12345'],
      [20, '38.00049'],
    ]);
    expect(entities()[7]!.at(-1)).toEqual([20, up]);
  });

  test('words stand where they stand on the sheet, and a line of 100 mm below it tells the scale', () => {
    expect(entities()[11]!.slice(1)).toEqual([
      [8, 'A'],
      [10, '10'],
      [20, '19.87704'],
      [40, '4'],
      [1, 'x < y & z > 1'],
      // Clockwise on the sheet, y down, is against the clock in the file, y up, and angles there are counted against the clock.
      [50, '-30'],
      [72, '1'],
      [11, '10'],
      [21, '19.87704'],
      [73, '2'],
    ]);
    expect(entities()[10]!.slice(1)).toEqual([
      [8, 'SCALE'],
      [10, '0'],
      [20, '-5'],
      [11, '100'],
      [21, '-5'],
    ]);
  });

  test('lengths are told to a millionth of a millimetre', () => {
    const [, thirds] = sheetDxf({
      ...small,
      lines: [
        {
          ...small.lines[0]!,
          points: [
            [1 / 3, 0],
            [-2 / 3e3, 0],
          ],
        },
      ],
    }).split('VERTEX');
    expect(thirds!.split('\n')).toContain('0.333333');
    expect(
      sheetDxf({
        ...small,
        lines: [
          {
            ...small.lines[0]!,
            points: [
              [1 / 3, 0],
              [-2 / 3e3, 0],
            ],
          },
        ],
      }),
    ).toContain('\n-0.000667\n');
  });
});
