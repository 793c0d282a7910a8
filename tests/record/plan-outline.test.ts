// Outline, saddle and chords of a plan, by plane geometry.
import { describe, expect, test } from 'vitest';
import { BODY_STATIONS, outlineThroughStations } from '../../src/plate/body-outline.ts';
import { boundingBox, type Point } from '../../src/plate/outline.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { bodyFrom, chord, neckEndMm, planOutline, saddleMm, scaleLayout } from '../../src/record/plan-outline.ts';
import type { Plan } from '../../src/record/record.ts';

const plan = startPlan('right');
const body = {
  lengthMm: 500,
  lowerAtMm: 140,
  lowerMm: 400,
  waistAtMm: 300,
  waistMm: 250,
  upperAtMm: 410,
  upperMm: 300,
};
const drawn = (more: Partial<typeof body>): Plan => ({ ...plan, outline: { kind: 'body', ...body, ...more } });
const box: readonly Point[] = [
  [0, -150],
  [400, -150],
  [400, 150],
  [0, 150],
];

describe('the outline of a body', () => {
  test('is as long and as wide as it was measured, and begins at the tail', () => {
    const [x0, y0, x1, y1] = boundingBox(planOutline(drawn({})));
    expect([x0, x1]).toEqual([expect.closeTo(0, 6), expect.closeTo(500, 6)]);
    // The widest place lies between two points of the drawing.
    expect(y1).toBeGreaterThan(199.5);
    expect(y1).toBeLessThanOrEqual(200);
    expect(y0).toBeCloseTo(-y1, 9);
    const widthAt = (x: number) =>
      2 *
      Math.max(
        ...planOutline(drawn({}))
          .filter(([at]) => Math.abs(at - x) < 6)
          .map(([, y]) => y),
      );
    expect(Math.abs(widthAt(300) - 250)).toBeLessThan(3);
    expect(Math.abs(widthAt(410) - 300)).toBeLessThan(3);
  });

  test.each([
    ['a lower bout before the tail', { lowerAtMm: 0 }],
    ['a waist before the lower bout', { waistAtMm: 140 }],
    ['an upper bout before the waist', { upperAtMm: 290 }],
    ['an upper bout beyond the neck end', { upperAtMm: 500 }],
    ['no lower bout', { lowerMm: 0 }],
    ['no waist', { waistMm: 0 }],
    ['no upper bout', { upperMm: -1 }],
  ])('is none with %s', (_, wrong) => {
    expect(planOutline(drawn(wrong))).toEqual([]);
    expect(neckEndMm([])).toBe(0);
  });

  test('of ours is the same body when it has gone through the record', () => {
    const stations = {
      lengthMm: 500,
      lowerBout: { atMm: 140, widthMm: 400 },
      waist: { atMm: 300, widthMm: 250 },
      upperBout: { atMm: 410, widthMm: 300 },
    };
    expect(bodyFrom(stations)).toEqual({ kind: 'body', ...body });
    for (const usual of Object.values(BODY_STATIONS))
      expect(planOutline({ ...plan, outline: bodyFrom(usual) })).toEqual(outlineThroughStations(usual));
  });

  test('from a drawing is its points as they stand', () => {
    const points = box.map(([xMm, yMm]) => ({ xMm, yMm }));
    expect(planOutline({ ...plan, outline: { kind: 'points', source: '', points } })).toEqual(box);
    expect(neckEndMm(box)).toBe(400);
  });
});

describe('the saddle', () => {
  // The 12th fret halves the scale.
  const twelve = { ...plan, scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 2, setbackBassMm: 5 };

  test('stands the rest of the scale and the mean setback behind the neck end', () => {
    expect(saddleMm(twelve, box)).toBeCloseTo(400 - 320 - 3.5, 9);
  });

  test('has its treble end on the right side for a right hand, on the left for a left one', () => {
    expect(scaleLayout(twelve, box)).toEqual({
      scaleLengthMm: 640,
      joinFret: 12,
      joinXMm: 400,
      compensationTrebleMm: 2,
      compensationBassMm: 5,
      stringSpreadMm: plan.stringSpreadMm,
      trebleSide: 1,
    });
    expect(scaleLayout(twelve, box, 'right').trebleSide).toBe(1);
    expect(scaleLayout(twelve, box, 'left').trebleSide).toBe(-1);
  });
});

describe('a chord', () => {
  const expectChord = (found: ReturnType<typeof chord>, ahead: Point, behind: Point) => {
    expect(found!.flat()).toEqual([...ahead, ...behind].map((mm) => expect.closeTo(mm, 9)));
  };

  test('runs ahead, then behind, drawn in at both ends', () => {
    expectChord(chord(box, [100, 20], 0, 0), [400, 20], [0, 20]);
    expectChord(chord(box, [100, 20], 0, 12), [388, 20], [12, 20]);
    expectChord(chord(box, [100, 20], 180, 12), [12, 20], [388, 20]);
    expectChord(chord(box, [100, 20], 90, 10), [100, 140], [100, -140]);
    expectChord(chord(box, [100, 20], -90, 10), [100, -140], [100, 140]);
  });

  test('at a slant is drawn in along itself: by 5 is 4 along and 3 across at a slope of 3 in 4', () => {
    const slant = (Math.atan2(3, 4) * 180) / Math.PI;
    expectChord(chord(box, [160, 0], slant, 5), [356, 147], [4, -117]);
  });

  test('ends at the nearest sides, not at the farthest', () => {
    // A U, open to the right: from its lower arm the chord up ends at the gap.
    const u: readonly Point[] = [
      [0, 0],
      [100, 0],
      [100, 30],
      [20, 30],
      [20, 70],
      [100, 70],
      [100, 100],
      [0, 100],
    ];
    expectChord(chord(u, [60, 15], 90, 0), [60, 30], [60, 0]);
    expectChord(chord(u, [60, 85], 90, 0), [60, 100], [60, 70]);
    expectChord(chord(u, [60, 85], 0, 0), [100, 85], [0, 85]);
  });

  test('through a corner meets it', () => {
    const diamond: readonly Point[] = [
      [100, 0],
      [0, 100],
      [-100, 0],
      [0, -100],
    ];
    expectChord(chord(diamond, [0, 0], 0, 0), [100, 0], [-100, 0]);
  });

  test('is none where the line leaves the outline on one side only, or where there is none', () => {
    expect(chord(box, [500, 0], 0, 0)).toBeUndefined();
    expect(chord(box, [-100, 0], 0, 0)).toBeUndefined();
    expect(chord(box, [200, 300], 0, 0)).toBeUndefined();
    expect(chord([], [0, 0], 0, 0)).toBeUndefined();
  });
});
