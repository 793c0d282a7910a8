// Outlines from drawings of other programs: each letter of path data, units, and what of a DXF is an outline. Expected places
// are read off the drawing by hand. Sources: SVG 1.1, sections 7.10 and 8.3; DXF R12 reference, group codes.
import { describe, expect, test } from 'vitest';
import { importOutline } from '../../src/record/plan-import.ts';

type Pair = readonly [number, number];

/** The points as the drawing has them: right and down from its own top left corner, mm. */
function drawn(name: string, text: string): readonly Pair[] {
  const read = importOutline(name, text);
  if (read.kind !== 'outline') throw new Error(read.because);
  const length = Math.max(...read.points.map(({ xMm }) => xMm));
  const half = Math.max(...read.points.map(({ yMm }) => yMm));
  return read.points.map(({ xMm, yMm }) => [yMm + half, length - xMm]);
}
const svg = (body: string, head = 'width="1000mm" viewBox="0 0 1000 1000"') => `<svg ${head}>${body}</svg>`;
const path = (d: string) => drawn('a.svg', svg(`<path d="${d}"/>`));
const box: readonly Pair[] = [
  [0, 0],
  [200, 0],
  [200, 300],
  [0, 300],
];
/** Places are kept to a thousandth of a millimetre, and here two of them are subtracted. */
function expectPoints(found: readonly Pair[], expected: readonly Pair[]): void {
  expect(found).toHaveLength(expected.length);
  found.forEach(([x, y], i) => {
    expect(Math.abs(x - expected[i]![0]), `x of point ${i}: ${x}`).toBeLessThan(0.0011);
    expect(Math.abs(y - expected[i]![1]), `y of point ${i}: ${y}`).toBeLessThan(0.0011);
  });
}

describe('straight lines', () => {
  test.each([
    ['lines', 'M10 20L210 20L210 320L10 320Z'],
    ['lines told from where the pen is', 'm10 20l200 0l0 300l-200 0z'],
    ['pairs after a move, which are lines', 'M10 20 210 20 210 320 10 320z'],
    ['pairs after a relative move', 'm10 20 200 0 0 300 -200 0'],
    ['across and down', 'M10 20H210V320H10Z'],
    ['across and down from where the pen is', 'M10 20h200v300h-200z'],
    ['across in two goes, of which the first is on the way', 'M10 20h200v300h-200z m0 0'],
    ['commas, signs and points as separators', 'M10,20L+210,20L210-20M10 20l200,0,0,300-200,0z'],
    ['exponents', 'M1e1 2E+1l2e2 0l0 3.e2l-200e0 0z'],
    ['a number that begins with its point', 'M10.5.5l200 0l0 300l-200 0z'],
    ['an argument too few, which is left out', 'M10 20h200v300h-200l7z'],
    ['arcs, of which the chord is taken', 'M10 20A5 5 0 0 1 210 20a9 9 0 1 0 0 300a1 1 0 0 0 -200 0z'],
    ['smooth curves along their own chords', 'M10 20L210 20L210 320L10 320L10 20'],
  ])('%s', (_, d) => {
    expectPoints(path(d), box);
  });

  test('a second piece begins where the first was closed, and the longest counts', () => {
    // After z the pen is back at 10, 20: the second piece goes round the box from there.
    expectPoints(path('M10 20h20v20h-20zl200 0l0 300l-200 0z'), [
      [200, 0],
      [200, 300],
      [0, 300],
    ]);
    expectPoints(path('M0 0h50v50h-50zM500 500h200v300h-200z'), box);
    expectPoints(path('M500 500h200v300h-200zm0 0h50v50h-50z'), box);
    // Relative to where the first piece began, not to its last corner.
    expectPoints(path('M500 500h200v300h-200zM5 5h9v9z'), box);
  });

  test('the way back to the start counts as drawn', () => {
    // A U of 300 + 10 + 300 is closed by 10: 620 round. A line of 305 and back is 610, and has no third point.
    expectPoints(path('M0 0v300h10v-300M500 0v100h205'), [
      [0, 0],
      [0, 300],
      [10, 300],
      [10, 0],
    ]);
  });
});

describe('curves', () => {
  /** The twelve points of a cubic after its first, by de Casteljau's construction: mixing twice and once more. */
  function cubic(a: Pair, b: Pair, c: Pair, d: Pair): readonly Pair[] {
    const mix = (p: Pair, q: Pair, t: number): Pair => [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
    return Array.from({ length: 12 }, (_, i) => {
      const t = (i + 1) / 12;
      const [ab, bc, cd] = [mix(a, b, t), mix(b, c, t), mix(c, d, t)];
      return mix(mix(ab, bc, t), mix(bc, cd, t), t);
    });
  }
  const quadratic = (a: Pair, b: Pair, c: Pair): readonly Pair[] =>
    Array.from({ length: 12 }, (_, i) => {
      const t = (i + 1) / 12;
      const at = (k: 0 | 1) => (1 - t) ** 2 * a[k] + 2 * t * (1 - t) * b[k] + t * t * c[k];
      return [at(0), at(1)];
    });
  const first = cubic([0, 0], [50, 40], [150, 60], [200, 0]);
  // The tail of every path below: down and back, so that the corner at 0, 0 stays the top left one.
  const rest = 'V300H0Z';
  const corners: readonly Pair[] = [
    [200, 300],
    [0, 300],
  ];

  test.each([
    ['from the corner of the sheet', `M0 0C50 40 150 60 200 0${rest}`],
    ['told from where the pen is', 'M30 30c50 40 150 60 200 0v300h-200z'],
  ])('a cubic %s', (_, d) => {
    expectPoints(path(d), [[0, 0], ...first, ...corners]);
  });

  test.each([
    ['absolute', 'M0 0C50 40 150 60 200 0S150 300 200 300H0Z'],
    ['relative', 'M7 9c50 40 150 60 200 0s-50 300 0 300h-200z'],
  ])('a smooth cubic goes on as the one before it ended, %s', (_, d) => {
    // The handle at 150, 60 mirrored in 200, 0.
    const second = cubic([200, 0], [250, -60], [150, 300], [200, 300]);
    const all = [[0, 0] as Pair, ...first, ...second, [0, 300] as Pair];
    const top = Math.min(...all.map(([, y]) => y));
    expectPoints(
      path(d),
      all.map(([x, y]) => [x, y - top]),
    );
  });

  test('a smooth cubic after a straight line begins at the pen', () => {
    expectPoints(path('M0 0H200S210 250 200 300H0Z'), [
      [0, 0],
      [200, 0],
      ...cubic([200, 0], [200, 0], [210, 250], [200, 300]),
      [0, 300],
    ]);
  });

  test.each([
    ['absolute', `M0 0Q100 80 200 0${rest}`],
    ['relative', 'M5 5q100 80 200 0v300h-200z'],
  ])('a quadratic, %s', (_, d) => {
    expectPoints(path(d), [[0, 0], ...quadratic([0, 0], [100, 80], [200, 0]), ...corners]);
  });

  test.each([
    ['absolute', `M0 0Q50 40 100 20T200 0${rest}`],
    ['relative', 'M5 5q50 40 100 20t100 -20v300h-200z'],
  ])('a smooth quadratic mirrors the handle before it, %s', (_, d) => {
    const all: readonly Pair[] = [
      [0, 0],
      ...quadratic([0, 0], [50, 40], [100, 20]),
      // 50, 40 mirrored in 100, 20.
      ...quadratic([100, 20], [150, 0], [200, 0]),
      ...corners,
    ];
    expectPoints(path(d), all);
  });

  test('many curves may follow one letter', () => {
    expectPoints(path('M0 0C50 40 150 60 200 0 210 100 190 200 200 300H0Z'), [
      [0, 0],
      ...first,
      ...cubic([200, 0], [210, 100], [190, 200], [200, 300]),
      [0, 300],
    ]);
  });
});

describe('the size of an SVG', () => {
  const sized = (head: string) => drawn('a.svg', svg('<path d="M0 0h200v300h-200z"/>', head));
  const times = (k: number) => box.map(([x, y]): Pair => [k * x, k * y]);

  test.each([
    ['millimetres', 'width="50mm" viewBox="0 0 100 100"', 0.5],
    ['centimetres', 'width="20cm" viewBox="0 0 100 100"', 2],
    ['inches', 'width="10 IN" viewBox="0,0,127,100"', 2],
    ['a fraction', 'viewBox=" 5 5 100 100 " width=\'12.5mm\'', 0.125],
    // 96 units an inch (CSS 2.1, 4.3.2).
    ['no width', 'viewBox="0 0 100 100"', 25.4 / 96],
    ['no box', 'width="50mm"', 25.4 / 96],
    ['a box without width', 'width="50mm" viewBox="0 0 0 100"', 25.4 / 96],
    ['a width in other units', 'width="50px" viewBox="0 0 100 100"', 25.4 / 96],
    ['a width with more behind it', 'width="50mm!" viewBox="0 0 100 100"', 25.4 / 96],
    ['a width with more before it', 'width="a50mm" viewBox="0 0 100 100"', 25.4 / 96],
  ])('%s', (_, head, scale) => {
    expectPoints(sized(head), times(scale));
  });

  test('is that of the outermost drawing', () => {
    const inner = '<svg width="9mm" viewBox="0 0 1 1"><path d="M0 0h200v300h-200z"/></svg>';
    expectPoints(drawn('a.svg', svg(inner)), box);
    expectPoints(drawn('a.svg', '<g><path d="M0 0h200v300h-200z"/></g>'), times(25.4 / 96));
  });
});

describe('what else an SVG holds', () => {
  test.each([
    ['a polygon', '<polygon points="10,20 210,20 210,320 10,320"/>'],
    ['a polyline, with a number left over', '<polyline points="10 20 210 20 210 320 10 320 5"/>'],
    ['names in capitals', '<PATH d="M10 20h200v300h-200z"/>'],
    [
      'other attributes before it, with signs of the grammar in them',
      '<path id="a>b" fill=none d="M0 0h200v300h-200z"/>',
    ],
    ['single quotes with double ones within', `<path title='a "d" <b>' d='M0 0h200v300h-200z'/>`],
    ['blanks about the sign', '<path d = "M0 0h200v300h-200z" />'],
    ['an empty path beside it', '<path d=""/><path/><polygon/><path d="M0 0h200v300h-200z"/>'],
    ['a comment before it', '<!-- > " --><path d="M0 0h200v300h-200z"/>'],
    ['a tag that is never closed before it', '<rect <path d="M0 0h200v300h-200z"/>'],
    ['a closing tag before it', '</g><path d="M0 0h200v300h-200z"/>'],
    ['smaller ones around it', '<path d="M0 0h9v9z"/><path d="M0 0h200v300h-200z"/><path d="M0 0h8v8z"/>'],
    ['a point told twice', '<path d="M0 0h200h0v300h-200v0z"/>'],
    ['its first point told again at the end', '<path d="M0 0h200v300h-200v-300z"/>'],
  ])('%s', (_, body) => {
    const found = drawn('a.svg', svg(body));
    expect(found).toHaveLength(4);
    for (const corner of box)
      expect(found).toContainEqual([expect.closeTo(corner[0], 6), expect.closeTo(corner[1], 6)]);
  });

  test.each([
    ['only shapes that are no outline', '<rect width="5"/><circle r="100"/>'],
    ['a quote that is never closed', '<path d="M0 0h200v300h-200z/>'],
    ['a comment that is never closed', '<!-- <path d="M0 0h200v300h-200z"/>'],
    ['points in another attribute', '<path points="0 0 200 0 200 300"/><polygon d="M0 0h200v300h-200z"/>'],
    ['a path of one point', '<path d="M5 5"/>'],
    ['nothing', ''],
  ])('has no path where there is %s', (_, body) => {
    expect(importOutline('a.svg', `<svg>${body}`)).toEqual({ kind: 'refused', because: 'no-path' });
  });

  test('lies with its neck up: what is up in the drawing is the neck end, what is right is y above nought', () => {
    const read = importOutline('a.svg', svg('<path d="M100 0L200 400L0 400z"/>'));
    // The tip, in the middle on top; then right and left at the foot.
    expect(read).toEqual({
      kind: 'outline',
      points: [
        { xMm: 400, yMm: 0 },
        { xMm: 0, yMm: 100 },
        { xMm: 0, yMm: -100 },
      ],
    });
  });

  test('is kept to a thousandth of a millimetre', () => {
    const read = importOutline('a.svg', svg('<path d="M0 0h200.00049v300.0006h-200z"/>'));
    expect(read.kind === 'outline' && Math.max(...read.points.map(({ xMm }) => xMm))).toBe(300.001);
  });

  test('may have five thousand points and no more', () => {
    const wheel = (points: number) =>
      `<polygon points="${Array.from({ length: points }, (_, k) => {
        const angle = (2 * Math.PI * k) / points;
        return `${(500 + 200 * Math.cos(angle)).toFixed(6)},${(500 + 200 * Math.sin(angle)).toFixed(6)}`;
      }).join(' ')}"/>`;
    expect(importOutline('a.svg', svg(wheel(5000))).kind).toBe('outline');
    expect(importOutline('a.svg', svg(wheel(5001)))).toEqual({ kind: 'refused', because: 'too-large' });
  });

  test('may be as long as two million characters', () => {
    const drawing = svg('<path d="M0 0h200v300h-200z"/>');
    expect(importOutline('a.svg', drawing.padEnd(2_000_000)).kind).toBe('outline');
    expect(importOutline('a.svg', drawing.padEnd(2_000_001))).toEqual({ kind: 'refused', because: 'too-large' });
  });
});

describe('a DXF', () => {
  const vertex = ([x, y]: Pair) => ['0', 'VERTEX', '8', 'L', '10', `${x}`, '20', `${y}`];
  const polyline = (points: readonly Pair[]) => ['0', 'POLYLINE', '66', '1', ...points.flatMap(vertex), '0', 'SEQEND'];
  const file = (...entities: readonly (readonly string[])[]) =>
    ['0', 'SECTION', '2', 'ENTITIES', ...entities.flat(), '0', 'ENDSEC', '0', 'EOF', ''].join('\n');
  const lying: readonly Pair[] = [
    [100, 50],
    [500, 50],
    [500, 250],
    [100, 350],
  ];
  const outline = [
    { xMm: 0, yMm: -150 },
    { xMm: 400, yMm: -150 },
    { xMm: 400, yMm: 50 },
    { xMm: 0, yMm: 150 },
  ];

  test('lying along x keeps its axes; standing it is turned to the right', () => {
    expect(importOutline('a.dxf', file(polyline(lying)))).toEqual({ kind: 'outline', points: outline });
    // Standing: up is toward the neck, and right is y.
    const standing = lying.map(([x, y]): Pair => [y, x]);
    expect(importOutline('a.dxf', file(polyline(standing)))).toEqual({ kind: 'outline', points: outline });
  });

  test('is told by its ending or by how it begins, whatever ends its lines', () => {
    const text = file(polyline(lying));
    expect(importOutline('A.DXF', text).kind).toBe('outline');
    expect(importOutline('a.txt', `  ${text}`).kind).toBe('outline');
    expect(importOutline('a.dxf', text.replaceAll('\n', '\r\n')).kind).toBe('outline');
    expect(importOutline('a.dxf', text.replaceAll('\n', '\r')).kind).toBe('outline');
    expect(importOutline('a.dxf', text.replaceAll('\n', '  \n  ')).kind).toBe('outline');
    // Named as one, it is read as one; only named with it within, it is not.
    expect(importOutline('a.dxf', svg('<path d="M0 0h200v300h-200z"/>')).kind).toBe('refused');
    expect(importOutline('a.dxf.svg', svg('<path d="M0 0h200v300h-200z"/>')).kind).toBe('outline');
    expect(importOutline('a.svg', `<!-- 0 SECTION -->${svg('<path d="M0 0h200v300h-200z"/>')}`).kind).toBe('outline');
  });

  test.each([
    ['lines and texts with places of their own', ['0', 'LINE', '10', '0', '20', '0', '11', '900', '21', '900']],
    ['a vertex outside of any polyline', vertex([9000, 9000])],
    [
      'a smaller polyline',
      polyline([
        [0, 0],
        [5, 0],
        [5, 5],
      ]),
    ],
    ['a polyline of one vertex', polyline([[0, 0]])],
    ['an empty polyline', polyline([])],
  ])('takes only its longest polyline: beside it %s', (_, other) => {
    for (const text of [file(other, polyline(lying)), file(polyline(lying), other)])
      expect(importOutline('a.dxf', text)).toEqual({ kind: 'outline', points: outline });
  });

  test.each([
    ['a height', ['30', '7']],
    ['a bulge', ['42', '0.5']],
  ])('a vertex with %s stays at its place', (_, more) => {
    const vertices = lying.flatMap((point) => [...vertex(point), ...more]);
    const text = file(['0', 'POLYLINE', '10', '0', '20', '0', ...vertices, '0', 'SEQEND']);
    expect(importOutline('a.dxf', text)).toEqual({ kind: 'outline', points: outline });
  });

  test.each([
    ['no number', ['0', 'VERTEX', '10', 'wide', '20', '5']],
    ['no height', ['0', 'VERTEX', '10', '5', '20', 'high']],
    ['no x', ['0', 'VERTEX', '20', '5']],
    ['no y', ['0', 'VERTEX', '10', '900']],
  ])('a vertex with %s is passed over', (_, bad) => {
    const text = file([
      '0',
      'POLYLINE',
      ...vertex(lying[0]!),
      ...bad,
      ...lying.slice(1).flatMap(vertex),
      '0',
      'SEQEND',
    ]);
    expect(importOutline('a.dxf', text)).toEqual({ kind: 'outline', points: outline });
  });

  test('that ends within a polyline does not give it', () => {
    const text = ['0', 'SECTION', ...polyline(lying).slice(0, -2)].join('\n');
    expect(importOutline('a.dxf', text)).toEqual({ kind: 'refused', because: 'no-path' });
  });
});
