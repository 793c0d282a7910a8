// `npm run bench -- aims`: pairs of tops of ours by lot, an old one and its successor in another wood, both from the plate solver;
// the aims know the two woods as a strip's taps give them and the old reading, never the braces nor the rim. How often the new
// top lies within the ± of its aim. Braces are rebuilt with other woods and heights; the rim holds the new top otherwise.
import { replacementAims, type SignatureStage, type TopWood, topRatios } from '../../src/box/replacement.ts';
import { slopesOf } from '../../src/forecast/properties.ts';
import { matched } from '../../src/forecast/shape-match.ts';
import { BODY_STATIONS } from '../../src/plate/body-outline.ts';
import type { BraceCase, EdgeCase, PlateCase, WoodConstants } from '../../src/plate/plate-case.ts';
import { type PlateMode, type PreparedPlate, plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { type Estimate, estimate, HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { patternBraces } from '../../src/record/plan-patterns.ts';
import { normal, type Random, seeded } from './tap-signals.ts';

/** One sigma of what strips give of a top: density, E along, E across, shear, as shares. */
const READ = { density: 0.01, along: 0.03, across: 0.05, shear: 0.05 };
const READING_HZ = 0.3;
/** One sigma of what is not rebuilt alike: height of all braces together and of each, mm; its E, its width, the rim's hold. */
const REBUILT = { allMm: 0.2, eachMm: 0.2, eShare: 0.08, densityShare: 0.05, rimShare: 0.3 };
const MODES = 4;
const LEAST_ALIKE = 0.8;

const SUPPORTS = ['free', 'hinged', 'clamped'] as const;
const STAGE_OF = { free: 'braced, free', hinged: 'on the rims', clamped: 'on the rims' } as const;

export const between = (random: Random, least: number, most: number): number => least + random() * (most - least);
export const about = (random: Random, share: number): number => Math.exp(share * normal(random));

/** A spruce or cedar by lot. */
function wood(random: Random, like: WoodConstants): WoodConstants {
  const densityKgM3 = between(random, 330, 470);
  const [along, across, shear] = [between(random, 8.5, 14.5), between(random, 0.5, 1.1), between(random, 0.55, 1.05)];
  const { eL, eR, gLR } = like;
  return {
    ...like,
    densityKgM3,
    eL: 1000 * along,
    eR: 1000 * across,
    eT: (like.eT * 1000 * across) / eR,
    gLR: 1000 * shear,
    gLT: (like.gLT * 1000 * shear) / gLR,
    nuLR: like.nuLR * Math.sqrt(((1000 * across) / eR) * (eL / (1000 * along))),
  };
}

export function drawnTop(random: Random): PlateCase {
  const bodies = Object.values(BODY_STATIONS);
  const body = bodies[Math.floor(random() * bodies.length)]!;
  const size = between(random, 0.95, 1.05);
  const scaled = ({ atMm, widthMm }: { readonly atMm: number; readonly widthMm: number }) => ({
    atMm: Math.round(size * atMm),
    widthMm: Math.round(size * widthMm),
  });
  const start = startPlan('right', {
    lengthMm: Math.round(size * body.lengthMm),
    lowerBout: scaled(body.lowerBout),
    waist: scaled(body.waist),
    upperBout: scaled(body.upperBout),
  });
  const pattern = (['x', 'ladder', 'fan'] as const)[Math.floor(random() * 3)]!;
  const plan = { ...start, thicknessMm: between(random, 2.3, 3.2) };
  const tallness = between(random, 0.85, 1.15);
  const plate = planCase({ ...plan, braces: patternBraces(pattern, plan) }, { hold: 'in-mould', bridge: 'off' });
  return {
    ...plate,
    material: wood(random, plate.material),
    braces: plate.braces!.map((brace) => ({
      ...brace,
      heightMm: brace.heightMm.map(([atMm, mm]) => [atMm, tallness * mm] as const),
    })),
  };
}

function rebuilt(braces: readonly BraceCase[], random: Random): readonly BraceCase[] {
  const allMm = REBUILT.allMm * normal(random);
  return braces.map((brace) => {
    const offMm = brace.id.startsWith('x-') ? allMm : allMm + REBUILT.eachMm * normal(random);
    const [e, density] = [about(random, REBUILT.eShare), about(random, REBUILT.densityShare)];
    const { material } = brace;
    return {
      ...brace,
      heightMm: brace.heightMm.map(([atMm, mm]) => [atMm, mm + offMm] as const),
      material: { ...material, eL: material.eL * e, densityKgM3: material.densityKgM3 * density },
    };
  });
}

/** The wood as a strip's taps give it. */
function readWood({ densityKgM3, eL, eR, gLR }: WoodConstants, random: Random): TopWood & { readonly gGpa: Estimate } {
  const read = (value: number, share: number) => {
    const seen = value * about(random, share);
    return estimate(seen, share * seen);
  };
  return {
    densityKgM3: read(densityKgM3, READ.density),
    eLongGpa: read(eL / 1000, READ.along),
    eCrossGpa: read(eR / 1000, READ.across),
    gGpa: read(gLR / 1000, READ.shear),
  };
}

function modesOf(prepared: PreparedPlate, plate: PlateCase): readonly PlateMode[] {
  const answer = plateModes(prepared, plate, { count: MODES + 3 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer.modes;
}

interface AimTrial {
  readonly support: (typeof SUPPORTS)[number];
  readonly mode: number;
  readonly truthHz: number;
  readonly withShear: Estimate;
  readonly withoutShear: Estimate;
  /** of the old top's stiffness in this mode: along, across, shear; and of its mass, the plate's */
  readonly shares: readonly number[];
}

const PLATE = (['plate eL', 'plate eR', 'plate gLR', 'plate density'] as const).map((property) => ({
  property,
  relativeSigma: 0.1,
}));

/** One pair, under each support. */
function aimPair(random: Random): readonly AimTrial[] {
  const old = drawnTop(random);
  const [oldRead, freshMaterial] = [readWood(old.material, random), wood(random, old.material)];
  const freshRead = readWood(freshMaterial, random);
  const ratioE =
    (oldRead.eLongGpa.value * oldRead.eCrossGpa.value) / (freshRead.eLongGpa.value * freshRead.eCrossGpa.value);
  const thicknessMm = old.thicknessMm * ratioE ** (1 / 6) * about(random, 0.03);
  const fresh = { ...old, material: freshMaterial, thicknessMm, braces: rebuilt(old.braces!, random) };
  const [oldMm, freshMm] = [
    estimate(old.thicknessMm * about(random, 0.01), 0.01 * old.thicknessMm),
    estimate(thicknessMm, 0),
  ];
  const rimN = between(random, 0, 150);
  const rimAfterN = rimN * about(random, REBUILT.rimShare);
  return SUPPORTS.flatMap((support) => {
    const edge = (n: number): EdgeCase =>
      support === 'hinged' ? { kind: 'hinged', rotationalStiffnessN: n } : support;
    const [before, after] = [
      { ...old, edge: edge(rimN) },
      { ...fresh, edge: edge(rimAfterN) },
    ];
    const [prepared, preparedAfter] = [preparePlate(before), preparePlate(after)];
    const modes = modesOf(prepared, before);
    const next = modesOf(preparedAfter, after);
    const slopes = slopesOf(prepared, before, modes, PLATE);
    const pairs = matched(prepared, modes, next);
    return modes.slice(0, MODES).flatMap((mode, i): AimTrial[] => {
      const { partner, likeness } = pairs[i]!;
      if (likeness < LEAST_ALIKE) return [];
      const read = estimate(mode.frequencyHz + READING_HZ * normal(random), READING_HZ);
      const stage: SignatureStage = STAGE_OF[support];
      const aim = (from: TopWood, to: TopWood): Estimate => {
        const [one] = replacementAims(
          [{ part: 'top', stage, mode: `${i}`, frequencyHz: read, sameAirHz: read, damage: [] }],
          topRatios(from, oldMm, to, freshMm),
        );
        if (one?.kind !== 'aim') throw new Error('no aim');
        return one.aimHz;
      };
      const { gGpa: _old, ...oldPlain } = oldRead;
      const { gGpa: _fresh, ...freshPlain } = freshRead;
      return [
        {
          support,
          mode: i,
          truthHz: next[partner]!.frequencyHz,
          withShear: aim(oldRead, freshRead),
          withoutShear: aim(oldPlain, freshPlain),
          shares: slopes[i]!.map((slope) => (2 * slope) / mode.frequencyHz),
        },
      ];
    });
  });
}

const share = (part: number, whole: number): string => `${((100 * part) / whole).toFixed(0).padStart(3)} %`;

/** How often the new top lies within the 95 % of its aim, by support and mode. */
export function aimFigures(pairs: number, seed: number, shows: 'coverage' | 'shares' = 'coverage'): readonly string[] {
  const random = seeded(seed);
  const trials = Array.from({ length: pairs }, () => aimPair(random)).flat();
  const lines = [`${pairs} pairs, seed ${seed}`];
  for (const support of SUPPORTS) {
    for (const only of [undefined, 0]) {
      const own = trials.filter((trial) => trial.support === support && (only === undefined || trial.mode === only));
      const what = `${support.padEnd(8)} ${only === undefined ? 'lowest four' : 'lowest     '} ${own.length}`;
      const held = (key: 'withShear' | 'withoutShear') =>
        share(own.filter((t) => Math.abs(t.truthHz - t[key].value) <= HALF_WIDTH_95 * t[key].sigma).length, own.length);
      const rms = (of: (t: AimTrial) => number) =>
        (100 * Math.sqrt(own.reduce((sum, t) => sum + of(t) ** 2, 0) / own.length)).toFixed(1);
      lines.push(
        `${what}: shear known ${held('withShear')}, unknown ${held('withoutShear')}; error ${rms((t) => t.truthHz / t.withShear.value - 1)} %, stated ${rms((t) => t.withShear.sigma / t.withShear.value)} % (one sigma)`,
      );
      if (shows === 'coverage') continue;
      const stat = (values: readonly number[]) => {
        const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
        const sd = Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / values.length);
        return `${mean.toFixed(2)} ± ${sd.toFixed(2)}`;
      };
      const [l, r, g, m] = [0, 1, 2, 3].map((k) => own.map((t) => t.shares[k]!));
      lines.push(
        `    along of along and across ${stat(l!.map((x, k) => x / (x + r![k]!)))}, shear of plate ${stat(l!.map((x, k) => g![k]! / (x + r![k]! + g![k]!)))}, braces ${stat(l!.map((x, k) => 1 - x - r![k]! - g![k]!))}, plate of mass ${stat(m!.map((x) => -x))}`,
      );
    }
  }
  return lines;
}
