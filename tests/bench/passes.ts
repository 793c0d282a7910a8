// Whole voicings by lot: pass after pass with a blade that errs and readings that scatter, until the maker is told to stop or
// the mode is past. Today's rule (compare/course.ts: the usual pass, half of it where the line of the past leads beyond the
// band) beside the pass sized to a risk. Truth is the project's plate, or the solids of tests/reference.
import { fileURLToPath } from 'node:url';
import { courseToward } from '../../src/compare/course.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { nextPassMeasured } from '../../src/forecast/measured-pass.ts';
import { foreseenBend, nextPass, type PassTarget } from '../../src/forecast/next-pass.ts';
import { type Parameter, withFactors } from '../../src/forecast/properties.ts';
import { matched } from '../../src/forecast/shape-match.ts';
import { cutPlate } from '../../src/forecast/shaving.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { removals } from '../../src/record/cuts.ts';
import { type Chapter, inMould, story } from '../compare/story.ts';
import { tetraCases } from '../reference/plate-cases.ts';
import solidMoves from '../reference/plate-moves.json' with { type: 'json' };
import { normal, type Random, seeded } from './tap-signals.ts';

/** The held X top whose legs were lowered by 1, 2 and 4 mm in the solids too. */
const TOP: PlateCase = { ...tetraCases.body_x_free_14!, edge: 'hinged' };
/** Its modes that legs move, the lowest first; all three ranks are those of the solids. */
const MODES = [0, 2, 3] as const;
const SIZE_MM = 30;
const AT_MM = [0, 1, 2, 3, 4.5, 6] as const;
/** Woods by lot are shared by several tops. */
const POOL = 40;
const WOODS: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.1 },
  { property: 'plate eR', relativeSigma: 0.15 },
  { property: 'plate density', relativeSigma: 0.05 },
  { property: 'brace eL', relativeSigma: 0.15 },
];

const BAND_HZ = 1.5;
const READING_HZ = 0.25;
const SLOPE_SHARE = 0.2;
const TOLD_BLADE_MM = 0.1;
const MOST_PASSES = 60;

/** Frequency of each mode when so much is off the legs, Hz. */
type Curve = readonly ((offMm: number) => number)[];

/** The polynomial through some points (Lagrange). */
const through =
  (x: readonly number[], y: readonly number[]) =>
  (at: number): number =>
    y.reduce(
      (sum, yi, i) => sum + x.reduce((term, xj, j) => (j === i ? term : (term * (at - xj)) / (x[i]! - xj)), yi),
      0,
    );

const prepared = preparePlate(TOP, SIZE_MM);

/** The course of a top by the project's plate. */
function curveOf(plate: PlateCase): Curve {
  const first = plateModes(prepared, plate, { count: 6 });
  if (first.kind !== 'modes') throw new Error(first.kind);
  const hz = AT_MM.map((offMm) => {
    const cut = cutPlate(
      plate,
      ['x1', 'x2'].map((braceId) => ({ braceId, fromMm: 0, toMm: 200, offMm })),
    );
    const after = plateModes(prepared, cut, { count: 8, near: first.modes });
    if (after.kind !== 'modes') throw new Error(after.kind);
    const pairs = matched(prepared, first.modes, after.modes);
    return MODES.map((mode) => after.modes[pairs[mode]!.partner]!.frequencyHz);
  });
  return MODES.map((_, m) =>
    through(
      AT_MM,
      hz.map((of) => of[m]!),
    ),
  );
}

/** The course by the solids: 0, 1, 2 and 4 mm off. */
function solidCurve(): Curve {
  const of = (name: string) => solidMoves.find((series) => series.name === name)!;
  const series = [1, 2, 4].map((mm) => of(`X top, hinged, ${mm} mm off`));
  return MODES.map((mode) =>
    through([0, 1, 2, 4], [series[0]!.beforeHz[mode]!, ...series.map(({ afterHz }) => afterHz[mode]!)]),
  );
}

interface Case {
  readonly what: string;
  readonly modes: 1 | 2 | 3;
  /** truth of a top, and what is foreseen of it */
  readonly draw: (random: Random, pool: Pool) => { readonly truth: Curve; readonly foreseen: Curve };
  readonly bladeMm?: number;
  /** share of the passes in which the blade slips a further 0.3 mm deep */
  readonly slips?: number;
}
interface Pool {
  readonly nominal: Curve;
  readonly woods: readonly Curve[];
  readonly solid: Curve;
}

/** A course whose moves are so many times as large, and whose bend is more by a share of the slope for each mm. */
const turned = (curve: Curve, factor: number, more = 0): Curve =>
  curve.map((hz) => (offMm: number) => hz(0) + factor * (hz(offMm) - hz(0)) * (1 + more * offMm));

const ofPool = (random: Random, pool: Pool): Curve => pool.woods[Math.floor(random() * pool.woods.length)]!;
/** One factor for all modes: the wood of the legs is off. */
const slopeOff = (random: Random): number => Math.max(0.3, 1 + SLOPE_SHARE * normal(random));
const asForeseen: Case['draw'] = (random, pool) => {
  const foreseen = ofPool(random, pool);
  return { foreseen, truth: turned(foreseen, slopeOff(random)) };
};
const otherWoods: Case['draw'] = (random, pool) => ({ foreseen: pool.nominal, truth: ofPool(random, pool) });
const ofSolids: Case['draw'] = (random, pool) => ({
  foreseen: pool.nominal,
  truth: turned(pool.solid, slopeOff(random)),
});
const bentMore: Case['draw'] = (random, pool) => {
  const foreseen = ofPool(random, pool);
  return { foreseen, truth: turned(foreseen, slopeOff(random), 0.1) };
};

const CASES: readonly Case[] = [
  { what: 'as foreseen but for the slope', modes: 1, draw: asForeseen },
  { what: 'woods off', modes: 1, draw: otherWoods },
  { what: 'the solids’ course', modes: 1, draw: ofSolids },
  { what: 'a course that bends more', modes: 1, draw: bentMore },
  { what: 'a blade of 0.2 mm', modes: 1, draw: asForeseen, bladeMm: 0.2 },
  { what: 'a blade that slips 0.3 mm in 1 of 20', modes: 1, draw: asForeseen, slips: 0.05 },
  { what: 'solids, blade 0.15 mm, slips', modes: 1, draw: ofSolids, bladeMm: 0.15, slips: 0.05 },
  { what: 'as foreseen but for the slope', modes: 2, draw: asForeseen },
  { what: 'the solids’ course', modes: 2, draw: ofSolids },
  { what: 'as foreseen but for the slope', modes: 3, draw: asForeseen },
  { what: 'the solids’ course', modes: 3, draw: ofSolids },
];

/** A top, what is wanted of it, and its maker's habit. */
interface Top {
  readonly truth: Curve;
  readonly foreseen: Curve;
  readonly targets: readonly { readonly frequencyHz: number; readonly toleranceHz: number }[];
  readonly usualMm: number;
}

function topOf(of: Case, random: Random, pool: Pool): Top {
  const { truth, foreseen } = of.draw(random, pool);
  const fallsHz = 6 + 8 * random();
  let [low, high] = [0, 6];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (truth[0]!(0) - truth[0]!(middle) < fallsHz) low = middle;
    else high = middle;
  }
  // Bands as wide as the first mode's, in proportion; wishes for several are round numbers, a third of a band off one another.
  const targets = truth.slice(0, of.modes).map((hz, m) => {
    const toleranceHz = (BAND_HZ * hz(0)) / truth[0]!(0);
    return { toleranceHz, frequencyHz: hz(low) + (m === 0 ? 0 : (toleranceHz * (2 * random() - 1)) / 3) };
  });
  return { truth, foreseen, targets, usualMm: 0.3 + 0.5 * random() };
}

/** What a maker knows: readings, and depths as meant. */
interface Diary {
  readonly readings: readonly (readonly Estimate[])[];
  readonly depthsMm: readonly number[];
}
/** Depth of the next pass, mm; nothing means to stop. */
type Rule = (top: Top, diary: Diary) => number | undefined;

/** The record as its maker would have written it: depths as meant, and as much in grams for the rate by weight. */
const recordOf = ({ readings, depthsMm }: Diary) =>
  story(
    readings.map(
      (of, i): Chapter => ({
        modesHz: of.map(({ value }) => value),
        sigmaHz: READING_HZ,
        ...(i > 0 && { massOffG: depthsMm[i - 1]! }),
      }),
    ),
  );

/** Today's verdicts: past or within is the end; where the next pass would lead beyond the band, half the last one. */
const today: Rule = ({ targets, usualMm }, diary) => {
  const { depthsMm } = diary;
  const record = recordOf(diary);
  const followed = tracks(record, 'braced', inMould);
  const verdicts = targets.map(
    (target, m) =>
      courseToward(followed[m]!, removals(record), { id: 't', mode: 'm', stage: 'braced', origin: '', ...target })
        .verdict,
  );
  if (verdicts.some(({ kind }) => kind === 'past') || verdicts.every(({ kind }) => kind === 'within')) return undefined;
  const leadsBeyond = verdicts.some(
    (verdict, m) => 'nextHz' in verdict && verdict.nextHz.value < targets[m]!.frequencyHz - targets[m]!.toleranceHz,
  );
  const last = depthsMm.at(-1);
  return leadsBeyond && last !== undefined ? Math.max(0.1, last / 2) : (last ?? usualMm);
};

const byRisk: Rule = ({ foreseen, targets, usualMm }, { readings, depthsMm }) => {
  const offMm = depthsMm.reduce((sum, mm) => sum + mm, 0);
  const asked = targets.map((target, m): PassTarget => {
    const hz = foreseen[m]!;
    const slope = (hz(offMm + 0.05) - hz(offMm - 0.05)) / 0.1;
    const bend = (hz(offMm + 0.5) - 2 * hz(offMm) + hz(offMm - 0.5)) / 0.5;
    const at = readings.map((of) => of[m]!);
    return {
      ...target,
      nowHz: at.at(-1)!,
      hzPerMm: { value: slope, sigma: SLOPE_SHARE * Math.abs(slope) },
      hzPerMm2: foreseenBend(slope, bend),
      moves: depthsMm.map((value, k) => ({
        depthMm: { value, sigma: TOLD_BLADE_MM },
        hz: { value: at[k + 1]!.value - at[k]!.value, sigma: Math.hypot(at[k]!.sigma, at[k + 1]!.sigma) },
        endsNow: k === depthsMm.length - 1,
      })),
    };
  });
  const answer = nextPass(asked, { mostMm: usualMm, bladeMm: TOLD_BLADE_MM });
  return answer.kind === 'pass' ? answer.pass.depthMm : undefined;
};

/** Without a plan: by measured moves alone, one mode. */
const byMoves: Rule = ({ targets }, diary) => {
  const record = recordOf(diary);
  const { next } = nextPassMeasured(record, [{ track: tracks(record, 'braced', inMould)[0]!, target: targets[0]! }]);
  return next.kind === 'pass' ? next.pass.depthMm : undefined;
};

interface Outcome {
  readonly isWithin: boolean;
  readonly isPast: boolean;
  readonly passes: number;
}

function voiced(top: Top, { bladeMm = 0.1, slips = 0 }: Case, rule: Rule, random: Random): Outcome {
  let offMm = 0;
  const read = () =>
    top.targets.map((_, m) => ({ value: top.truth[m]!(offMm) + READING_HZ * normal(random), sigma: READING_HZ }));
  let diary: Diary = { readings: [read()], depthsMm: [] };
  while (diary.depthsMm.length < MOST_PASSES) {
    const depthMm = rule(top, diary);
    if (depthMm === undefined) break;
    const slip = random() < slips ? 0.3 : 0;
    offMm += Math.max(0, depthMm + bladeMm * normal(random) + slip);
    diary = { readings: [...diary.readings, read()], depthsMm: [...diary.depthsMm, depthMm] };
  }
  const away = top.targets.map(({ frequencyHz, toleranceHz }, m) => (top.truth[m]!(offMm) - frequencyHz) / toleranceHz);
  return {
    isWithin: away.every((share) => Math.abs(share) <= 1),
    isPast: away.some((share) => share < -1),
    passes: diary.depthsMm.length,
  };
}

/** Shares of some tops under one rule, as told. */
function told(of: Case, rule: Rule, tops: number, firstSeed: number, pool: Pool): string {
  const outcomes = Array.from({ length: tops }, (_, i) => {
    const random = seeded(firstSeed + i);
    return voiced(topOf(of, random, pool), of, rule, random);
  });
  const percent = (is: (outcome: Outcome) => boolean) => ((100 * outcomes.filter(is).length) / tops).toFixed(1);
  const passes = outcomes.reduce((sum, outcome) => sum + outcome.passes, 0) / tops;
  return `${percent(({ isWithin }) => isWithin)}, ${percent(({ isPast }) => isPast)}, ${passes.toFixed(1)}`;
}

/**
 * Prints the table, Markdown.
 * @param tops of each case
 * @param firstSeed seeds from 880 million on judge, those from 870 million on are for choosing by
 */
export function passFigures(tops: number, firstSeed = 880_000_000): void {
  const random = seeded(firstSeed);
  const woods = Array.from({ length: POOL }, () =>
    curveOf(
      withFactors(
        TOP,
        WOODS,
        WOODS.map(({ relativeSigma }) => Math.exp(relativeSigma * normal(random))),
      ),
    ),
  );
  const pool: Pool = { nominal: curveOf(TOP), woods, solid: solidCurve() };
  console.log('| truth | modes | today: within %, past %, passes | by risk | by risk, without a plan |');
  console.log('| --- | --- | --- | --- | --- |');
  for (const [k, of] of CASES.entries()) {
    const seed = firstSeed + 10_000 * (k + 1);
    const rules = of.modes === 1 ? [today, byRisk, byMoves] : [today, byRisk];
    const cells = rules.map((rule) => told(of, rule, tops, seed, pool));
    console.log(`| ${[of.what, of.modes, ...cells, ...(of.modes === 1 ? [] : ['–'])].join(' | ')} |`);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [tops = '400', firstSeed] = process.argv.slice(2);
  passFigures(Number(tops), firstSeed === undefined ? undefined : Number(firstSeed));
}
