// Pages of a sheet against plain arithmetic: how many, whether every line is on one, and whether every word is whole on one.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BODY_STATIONS } from '../../src/plate/body-outline.ts';
import { mirroredPlan, startPlan } from '../../src/record/plan-edit.ts';
import { planSheet, profileSheet, type SheetWords } from '../../src/record/plan-sheet.ts';
import type { Sheet } from '../../src/record/sheet.ts';
import { crossesOf, OVERLAP_MM, type Page, type Paper, pagesOf, printed } from '../../src/record/sheet-pages.ts';
import { xCrossing } from '../../src/record/x-crossing.ts';

const words: SheetWords = {
  bass: 'BASS',
  treble: 'TREBLE',
  seen: (face, mirrored, hand) => `SEEN FROM ${face}${mirrored ? ', MIRRORED' : ''}, ${hand}-HANDED`,
  square: (sideMm) => `THIS SQUARE IS ${sideMm} mm`,
  brace: (name, lengthMm, widthMm) => `${name}, ${lengthMm.toFixed(0)} mm x ${widthMm} mm`,
  crossing: ({ angleDeg, hole }) => [
    `X ${angleDeg.toFixed(1)} deg between the lower legs`,
    `crossing ${hole!.fromEdgeMm.toFixed(0)} mm from the soundhole's edge,`,
    `${hole!.fromCentreMm.toFixed(0)} mm from its centre`,
  ],
};

/** Upright, mm. Sources: ISO 216; ANSI/ASME Y14.1. */
const papers = { a4: [210, 297], letter: [215.9, 279.4] } as const;
/** What common printers leave blank at most. Common practice, no source. */
const QUARTER_INCH = 6.35;

const rectangle = (widthMm: number, heightMm: number, more: Sheet['lines'] = []): Sheet => ({
  widthMm,
  heightMm,
  lines: [
    {
      layer: 'OUTLINE',
      closed: true,
      points: [
        [0, 0],
        [widthMm, 0],
        [widthMm, heightMm],
        [0, heightMm],
      ],
    },
    ...more,
  ],
  texts: [],
});

const holds = (page: Page, [x, y]: readonly [number, number]): boolean =>
  x >= page.xMm && x <= page.xMm + page.widthMm && y >= page.yMm && y <= page.yMm + page.heightMm;

/** Places along every line that is printed, a millimetre apart. */
const drawnPlaces = (sheet: Sheet): readonly (readonly [number, number])[] =>
  sheet.lines
    .filter(({ layer }) => layer !== 'SCALE')
    .flatMap(({ points, closed }) =>
      points.flatMap(([x, y], i) => {
        const next = points[i + 1] ?? (closed ? points[0] : undefined);
        if (next === undefined) return [];
        const steps = Math.ceil(Math.hypot(next[0] - x, next[1] - y));
        return Array.from(
          { length: steps + 1 },
          (_, k) => [x + ((next[0] - x) * k) / steps, y + ((next[1] - y) * k) / steps] as const,
        );
      }),
    );

describe('how many pages', () => {
  // A4 with 8 mm blank all round shows 194 by 281 mm; two side by side with 10 mm shared show 378.
  test.each([
    [190, 280, 'a4', 1, false],
    [280, 190, 'a4', 1, true],
    [194, 281, 'a4', 1, false],
    [195, 281, 'a4', 2, undefined],
    [378, 281, 'a4', 2, undefined],
    // Upright three by two, on its side two by two of 281 by 194: 552 by 378.
    [520, 370, 'a4', 4, true],
    [370, 520, 'a4', 4, false],
    // Letter shows 199.9 by 263.4.
    [199, 263, 'letter', 1, false],
    [389, 263, 'letter', 2, undefined],
    [263, 390, 'letter', 3, undefined],
  ] as const)('a rectangle of %s by %s mm on %s: %s', (width, height, paper, count, isLandscape) => {
    const found = pagesOf(rectangle(width, height), paper);
    expect(found.pages).toHaveLength(count);
    if (isLandscape !== undefined) expect(found.isLandscape).toBe(isLandscape);
  });

  // Upright two by two sheets of A4 show 378 by 552 mm, of Letter 389.8 by 516.8. The bodies are 338 by 458, 384 by 487 and 404 by 506: too
  // wide ones take a third sheet below, where the lower bout is, and none beside the upper one.
  const bodies = { 'small parlour': [4, 4], concert: [5, 4], large: [5, 5] } as const;
  test('every body of our own, from either side and for either hand, is on four sheets or five', () => {
    for (const [name, stations] of Object.entries(BODY_STATIONS))
      for (const [i, paper] of (['a4', 'letter'] as const).entries())
        for (const [plan, hand] of [
          [startPlan('right', stations), 'right'],
          [mirroredPlan(startPlan('right', stations)), 'left'],
        ] as const) {
          const pages = (['inside', 'outside'] as const).map(
            (face) => pagesOf(planSheet(plan, hand, face, false, words), paper).pages.length,
          );
          const wanted = bodies[name as keyof typeof bodies][i]!;
          expect(pages, `${name} on ${paper}`).toEqual([wanted, wanted]);
        }
  });

  test('a page that would be empty is none: two far strips of a sheet', () => {
    const far: Sheet = {
      widthMm: 900,
      heightMm: 100,
      texts: [],
      lines: [20, 880].map((x) => ({
        layer: 'BRACES',
        closed: false,
        points: [
          [x, 10],
          [x, 90],
        ],
      })),
    };
    expect(pagesOf(far, 'a4').pages).toHaveLength(2);
    expect(pagesOf({ ...far, lines: [] }, 'a4').pages).toHaveLength(1);
  });
});

const drawings: readonly (readonly [string, () => Sheet])[] = [
  ...Object.entries(BODY_STATIONS).flatMap(([name, stations]) => [
    [`${name}, right, inside`, () => planSheet(startPlan('right', stations), 'right', 'inside', false, words)] as const,
    [
      `${name}, left, outside, mirrored`,
      () => planSheet(mirroredPlan(startPlan('right', stations)), 'left', 'outside', true, words),
    ] as const,
  ]),
  ['side views', () => profileSheet(startPlan('right'), words)],
];

describe.each(drawings)('%s', (_, draw) => {
  const sheet = draw();
  test.each(['a4', 'letter'] as const)(
    'on %s every place of every line is on a page, within what can be printed',
    (paper: Paper) => {
      const { pages, isLandscape } = pagesOf(sheet, paper);
      const missing = drawnPlaces(sheet).filter((place) => !pages.some((page) => holds(page, place)));
      expect(missing).toEqual([]);
      for (const page of pages) {
        expect(
          drawnPlaces(sheet).some((place) => holds(page, place)),
          page.name,
        ).toBe(true);
        const [short, long] = papers[paper];
        const [width, height] = isLandscape ? [long, short] : [short, long];
        expect([width - page.widthMm >= 2 * QUARTER_INCH, height - page.heightMm >= 2 * QUARTER_INCH]).toEqual([
          true,
          true,
        ]);
      }
      expect(new Set(pages.map(({ name }) => name)).size).toBe(pages.length);
    },
  );

  test.each(['a4', 'letter'] as const)(
    'on %s every page shares a cross with another, and no cross is on one alone',
    (paper: Paper) => {
      const { pages } = pagesOf(sheet, paper);
      const crosses = crossesOf(pages);
      for (const cross of crosses) {
        const on = pages.filter((page) => holds(page, cross));
        expect(on.length).toBeGreaterThanOrEqual(2);
        // Far enough from the edge that its arms of 4 mm are whole.
        for (const page of on)
          expect(
            Math.min(
              cross[0] - page.xMm,
              page.xMm + page.widthMm - cross[0],
              cross[1] - page.yMm,
              page.yMm + page.heightMm - cross[1],
            ),
          ).toBeGreaterThanOrEqual(OVERLAP_MM / 2 - 1e-6);
      }
      if (pages.length > 1)
        for (const page of pages)
          expect(crosses.filter((cross) => holds(page, cross)).length, page.name).toBeGreaterThanOrEqual(2);
    },
  );

  test.each(['a4', 'letter'] as const)('on %s every word is whole on a page and over no other word', (paper: Paper) => {
    const { pages } = printed(sheet, paper);
    const texts = [...new Set(pages.flatMap((page) => page.texts))];
    // Those of the files besides the one in the square, each on some page, and on none that it is not whole on.
    expect(texts.map(({ text }) => text).toSorted()).toEqual(
      sheet.texts
        .slice(0, -1)
        .map(({ text }) => text)
        .toSorted(),
    );
    // A letter is taken as half as wide as the type is high, capitals as 0.7 of it high.
    const corners = texts.map(({ at, angleDeg, heightMm, text }) => {
      const [w, h] = [0.25 * heightMm * text.length, 0.35 * heightMm];
      const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
      return [
        [-w, -h],
        [w, -h],
        [w, h],
        [-w, h],
      ].map(([x, y]) => [at[0] + x! * c - y! * s, at[1] + x! * s + y! * c] as const);
    });
    for (const [i, box] of corners.entries()) {
      for (const page of pages.filter((page) => page.texts.includes(texts[i]!)))
        expect(
          box.every((corner) => holds(page, corner)),
          `${texts[i]!.text} on ${page.name}`,
        ).toBe(true);
      for (const [k, other] of corners.entries())
        if (k > i) expect(apart(box, other), `${texts[i]!.text} and ${texts[k]!.text}`).toBe(true);
    }
  });
});

/** Whether two rectangles lie apart: on either side of a line along one of their sides. */
function apart(a: readonly (readonly [number, number])[], b: readonly (readonly [number, number])[]): boolean {
  return [a, b].some((box) =>
    [0, 1].some((side) => {
      const [p, q] = [box[side]!, box[side + 1]!];
      const along = (corner: readonly [number, number]) => corner[0] * (q[0] - p[0]) + corner[1] * (q[1] - p[1]);
      const [u, v] = [a.map(along), b.map(along)];
      return Math.max(...u) < Math.min(...v) || Math.max(...v) < Math.min(...u);
    }),
  );
}

test('a rectangle of any size is covered, by no more pages than whole columns and rows of the better way', () => {
  const along = (size: number, page: number) => Math.max(1, Math.ceil((size - OVERLAP_MM) / (page - OVERLAP_MM)));
  fc.assert(
    fc.property(
      fc.integer({ min: 20, max: 1200 }),
      fc.integer({ min: 20, max: 1200 }),
      fc.constantFrom('a4' as const, 'letter' as const),
      (width, height, paper) => {
        const sheet = rectangle(width, height);
        const { pages } = pagesOf(sheet, paper);
        expect(drawnPlaces(sheet).every((place) => pages.some((page) => holds(page, place)))).toBe(true);
        const [short, long] = papers[paper].map((size) => size - 16) as [number, number];
        const least = Math.min(along(width, short) * along(height, long), along(width, long) * along(height, short));
        expect(pages.length).toBeLessThanOrEqual(least);
      },
    ),
    { seed: 31, numRuns: 60 },
  );
});

describe('the X', () => {
  const plan = startPlan('right');
  const [bass, treble] = plan.braces.filter(({ id }) => id.startsWith('x-')) as [
    (typeof plan.braces)[number],
    (typeof plan.braces)[number],
  ];
  const leg = (from: readonly [number, number], to: readonly [number, number]) => ({
    ...bass,
    from: { xMm: from[0], yMm: from[1] },
    to: { xMm: to[0], yMm: to[1] },
  });
  test('angle and distances of one that is drawn by a right triangle', () => {
    // Legs at slopes of 1 and -1 through 250, 0: a right angle. The hole stands 90 mm further, 40 mm of it its radius.
    const x = xCrossing({
      ...plan,
      soundhole: { xMm: 340, yMm: 0, radiusMm: 40 },
      braces: [leg([100, -150], [350, 100]), leg([350, -100], [100, 150])],
    })!;
    expect(x.at).toEqual([expect.closeTo(250, 9), expect.closeTo(0, 9)]);
    expect(x.angleDeg).toBeCloseTo(90, 9);
    expect(x.hole).toEqual({ fromEdgeMm: expect.closeTo(50, 9), fromCentreMm: expect.closeTo(90, 9) });
  });

  test('a wider one opens more toward the tail, whichever end was drawn first', () => {
    // Slopes of 4 in 3 either side of the centre line: 2 atan(4/3) = 106.26 degrees.
    const braces = [leg([100, -200], [325, 100]), leg([325, -100], [100, 200])];
    for (const turned of [braces, braces.map((each) => ({ ...each, from: each.to, to: each.from }))])
      expect(xCrossing({ ...plan, braces: turned })!.angleDeg).toBeCloseTo(106.2602, 3);
  });

  test('without a hole it has no distance, without an X it is none, and mirrored it is the same', () => {
    const { soundhole: _hole, ...closed } = plan;
    expect(xCrossing(closed)!.hole).toBeUndefined();
    expect(xCrossing({ ...plan, braces: plan.braces.filter(({ id }) => id !== treble.id) })).toBeUndefined();
    expect(xCrossing(mirroredPlan(plan))!.angleDeg).toBeCloseTo(xCrossing(plan)!.angleDeg, 9);
  });
});
