// Bracing patterns to start from, fitted to any of our outlines. The dimensions are our own; they are starting points,
// not recommendations.
import { type ProfileShape, shapedProfile } from '../brace/profile.ts';
import { between, type Point } from '../plate/outline.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { chord, neckEndMm, planOutline, saddleMm } from './plan-outline.ts';
import type { Plan, PlanBrace } from './record.ts';

export const patterns = ['x', 'ladder', 'fan', 'lattice'] as const;
export type BracingPattern = (typeof patterns)[number];

interface Stick {
  readonly id: string;
  readonly name: string;
  readonly ends: readonly [Point, Point];
  readonly widthMm: number;
  readonly heightMm: number;
  readonly endMm: number;
  readonly shape: ProfileShape;
  readonly structural?: boolean;
  /** stretches with their floors, shares of the length and of the greatest height */
  readonly floors?: readonly (readonly [from: number, to: number, floor: number])[];
}

/** Floors as shares of the greatest height: a brace that carries the strings keeps most of it, the others less. */
const STRUCTURAL_FLOOR = 0.7;
const OTHER_FLOOR = 0.55;

function brace(stick: Stick): PlanBrace {
  const [from, to] = stick.ends.map(([x, y]) => ({ xMm: Math.round(x), yMm: Math.round(y) })) as [
    PlanBrace['from'],
    PlanBrace['to'],
  ];
  const length = planBraceLengthMm({ from, to });
  const floors = stick.floors ?? [[0.22, 0.78, stick.structural ? STRUCTURAL_FLOOR : OTHER_FLOOR]];
  return {
    id: stick.id,
    name: stick.name,
    from,
    to,
    widthMm: stick.widthMm,
    profile: shapedProfile(stick.shape, length, stick.heightMm, stick.endMm),
    section: 'rounded',
    grainDeg: 0,
    structural: stick.structural ?? false,
    floors: floors.map(([fromShare, toShare, height]) => ({
      fromMm: Math.round(fromShare * length),
      toMm: Math.round(toShare * length),
      heightMm: Math.round(10 * height * stick.heightMm) / 10,
    })),
  };
}

/**
 * The braces of a pattern for the outline, soundhole and bridge of a plan, for a right-handed player.
 * Bass is y < 0, treble y > 0.
 */
export function patternBraces(pattern: BracingPattern, plan: Plan): readonly PlanBrace[] {
  const outline = planOutline(plan);
  const inset = plan.liningMm;
  const across = (xMm: number, turnDeg = 0): readonly [Point, Point] =>
    chord(outline, [xMm, 0], 90 + turnDeg, inset) ?? [
      [xMm, 50],
      [xMm, -50],
    ];
  const neck = neckEndMm(outline);
  const saddle = saddleMm(plan, outline);
  const holeBack = plan.soundhole === undefined ? 0.62 * neck : plan.soundhole.xMm - plan.soundhole.radiusMm;
  const holeFront = plan.soundhole === undefined ? 0.8 * neck : plan.soundhole.xMm + plan.soundhole.radiusMm;
  const transverse = brace({
    id: 'transverse',
    name: 'Transverse brace',
    ends: across((holeFront + neck) / 2 + 2),
    widthMm: 10,
    heightMm: 15,
    endMm: 5,
    shape: 'tapered',
    structural: true,
  });
  switch (pattern) {
    case 'x':
      return [...xBraces(outline, inset, holeBack - 34, saddle), transverse];
    case 'ladder':
      return [
        transverse,
        ...[holeBack - 12, (holeBack + saddle) / 2 + 6, saddle - 42, 0.42 * (saddle - 42)].map((xMm, i) =>
          brace({
            id: `ladder-${i + 1}`,
            name: `Ladder brace ${i + 1}`,
            ends: across(xMm),
            widthMm: 8,
            heightMm: i === 3 ? 10 : 13,
            endMm: 3,
            shape: 'tapered',
            structural: i < 2,
          }),
        ),
      ];
    case 'fan': {
      const lower = brace({
        id: 'lower-transverse',
        name: 'Lower transverse brace',
        ends: across(holeBack - 12),
        widthMm: 8,
        heightMm: 14,
        endMm: 5,
        shape: 'tapered',
        structural: true,
      });
      const apex: Point = [neck + 60, 0];
      const fans = [-3, -2, -1, 0, 1, 2, 3].map((place): PlanBrace => {
        const middle: Point = [saddle, place * 30];
        const turn = (Math.atan2(middle[1] - apex[1], middle[0] - apex[0]) * 180) / Math.PI;
        const [tail] = chord(outline, middle, turn, inset + 8) ?? [[20, place * 30]];
        return brace({
          id: `fan-${place + 4}`,
          name: `Fan brace ${place + 4}`,
          ends: [shareTo(middle, apex, (holeBack - 22 - saddle) / (apex[0] - saddle)), tail],
          widthMm: 6,
          heightMm: 5.5,
          endMm: 2,
          shape: 'tapered',
        });
      });
      return [transverse, lower, ...fans];
    }
    case 'lattice': {
      const places = [-150, -90, -30, 30, 90, 150];
      const sticks = places.flatMap((offset, i) =>
        [38, -38].flatMap((turn, side) => {
          const through: Point = [saddle - 10 + 0.55 * offset, side === 0 ? -0.55 * offset : 0.55 * offset];
          const ends = chord(outline, through, turn, inset + 4);
          if (ends === undefined) return [];
          const cut = clippedBelow(ends, holeBack - 16);
          return [
            brace({
              id: `lattice-${side === 0 ? 'a' : 'b'}${i + 1}`,
              name: `Lattice ${side === 0 ? 'A' : 'B'}${i + 1}`,
              ends: cut,
              widthMm: 4,
              heightMm: 8,
              endMm: 2.5,
              shape: 'tapered',
            }),
          ];
        }),
      );
      const lower = brace({
        id: 'lower-transverse',
        name: 'Lower transverse brace',
        ends: across(holeBack - 10),
        widthMm: 8,
        heightMm: 13,
        endMm: 5,
        shape: 'tapered',
        structural: true,
      });
      return [transverse, lower, ...sticks];
    }
  }
}

const shareTo = (a: Point, b: Point, share: number): Point => between(a, b, Math.max(0, Math.min(1, share)));

/** A stick cut off at a line across the plate, so that it ends below the soundhole. */
function clippedBelow([a, b]: readonly [Point, Point], xMm: number): readonly [Point, Point] {
  const cut = (p: Point, q: Point): Point => (p[0] <= xMm ? p : between(p, q, (p[0] - xMm) / (p[0] - q[0])));
  return [cut(a, b), cut(b, a)];
}

function xBraces(outline: readonly Point[], inset: number, crossingMm: number, saddle: number): readonly PlanBrace[] {
  const legs = (turnDeg: number): readonly [Point, Point] => {
    const [ahead, behind] = chord(outline, [crossingMm, 0], turnDeg, inset) ?? [
      [crossingMm + 90, 90],
      [crossingMm - 200, -200],
    ];
    return [ahead, behind];
  };
  // The crossing keeps its height; the lower legs are what is voiced.
  const crossShareOf = ([ahead, behind]: readonly [Point, Point]) => (ahead[0] - crossingMm) / (ahead[0] - behind[0]);
  const x = (id: string, name: string, turnDeg: number) => {
    const ends = legs(turnDeg);
    const cross = crossShareOf(ends);
    const floors = [
      [cross - 0.03, cross + 0.03, 1],
      [cross + 0.03, 0.85, 0.68],
    ] as const;
    return brace({ id, name, ends, widthMm: 8, heightMm: 14, endMm: 2.5, shape: 'tapered', structural: true, floors });
  };
  // The treble leg is the one whose lower end lies on the treble side: it rises toward the bass shoulder.
  const treble = x('x-treble', 'X brace, lower end treble', -44);
  const bass = x('x-bass', 'X brace, lower end bass', 44);
  const on = (leg: PlanBrace, share: number): Point =>
    between([leg.from.xMm, leg.from.yMm], [leg.to.xMm, leg.to.yMm], share);
  const crossShare = (crossingMm - treble.from.xMm) / (treble.to.xMm - treble.from.xMm);
  const along = (share: number) => crossShare + share * (1 - crossShare);
  const tone = (n: number, share: number, endX: number, endY: number): PlanBrace =>
    brace({
      id: `tone-${n}`,
      name: `Tone bar ${n}`,
      ends: [awayFrom(on(treble, along(share)), [endX, endY], 8), [endX, endY]],
      widthMm: 7,
      heightMm: 9.5,
      endMm: 2.5,
      shape: 'tapered',
    });
  const finger = (id: string, name: string, leg: PlanBrace, share: number, turnDeg: number): readonly PlanBrace[] => {
    const start = on(leg, along(share));
    const [end] = chord(outline, start, turnDeg, inset + 2) ?? [];
    // Without a rim on that side there is nowhere for it to go.
    if (end === undefined) return [];
    const ends = [awayFrom(start, end, 9), end] as const;
    return [brace({ id, name, ends, widthMm: 6, heightMm: 7, endMm: 2, shape: 'tapered' })];
  };
  return [
    treble,
    bass,
    tone(1, 0.3, saddle - 96, -84),
    tone(2, 0.62, saddle - 148, -46),
    ...finger('finger-bass-1', 'Finger brace, bass, upper', bass, 0.22, -112),
    ...finger('finger-bass-2', 'Finger brace, bass, lower', bass, 0.48, -124),
    ...finger('finger-treble-1', 'Finger brace, treble, upper', treble, 0.22, 112),
    ...finger('finger-treble-2', 'Finger brace, treble, lower', treble, 0.48, 124),
  ];
}

/** A point moved from `a` toward `b`, so that a brace begins clear of the one it springs from. */
const awayFrom = (a: Point, b: Point, mm: number): Point => between(a, b, mm / Math.hypot(b[0] - a[0], b[1] - a[1]));
