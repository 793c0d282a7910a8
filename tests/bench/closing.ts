// `npm run bench -- closing`: tops of ours by lot, tapped free and then glued to a box: how often air and top of the closed box lie
// within the ± that the drawing, the tap and the ruler foresaw. The truth has other woods, heights, rim and mesh, twice as many modes of
// the top on the air, and a back by lot; the ruler is off as rulers are.
import { closedBox, type TopAlone } from '../../src/box/closing.ts';
import { cavityOf } from '../../src/compare/box-cavity.ts';
import { closedByModels } from '../../src/forecast/before-gluing.ts';
import { type Parameter, withFactors } from '../../src/forecast/properties.ts';
import { stageShapes } from '../../src/forecast/stage-shapes.ts';
import { airPushed } from '../../src/plate/mode-shape.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { estimate, HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { about, between, drawnTop } from './aims.ts';
import { normal, type Random, seeded } from './tap-signals.ts';

const PAIRS = 40;
const TAPPED = 4;
const READING_HZ = 0.3;
const TRUTH_MESH_MM = 19;
const HEIGHT_MM = 0.2;

/** As a plan of a usual species states them. */
const open: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.12 },
  { property: 'plate eR', relativeSigma: 0.2 },
  { property: 'plate gLR', relativeSigma: 0.15 },
  { property: 'plate density', relativeSigma: 0.08 },
  { property: 'brace eL', relativeSigma: 0.12 },
  { property: 'brace gLR', relativeSigma: 0.15 },
  { property: 'brace density', relativeSigma: 0.08 },
  { property: 'rim stiffness', relativeSigma: 0.5 },
];

function truthOf(drawn: PlateCase, random: Random): PlateCase {
  const factors = open.map(({ relativeSigma }) => about(random, relativeSigma));
  const other = withFactors(drawn, open, factors);
  return {
    ...other,
    braces: other.braces!.map((brace) => {
      const offMm = HEIGHT_MM * normal(random);
      return { ...brace, heightMm: brace.heightMm.map(([atMm, mm]) => [atMm, mm + offMm] as const) };
    }),
  };
}

function solved(plate: PlateCase, count: number) {
  const prepared = preparePlate(plate, TRUTH_MESH_MM);
  const answer = plateModes(prepared, plate, { count });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer.modes.map(
    (mode): TopAlone => ({ frequencyHz: mode.frequencyHz, pushedM2PerSqrtKg: airPushed(prepared, mode) }),
  );
}

/** Pulls of the truth on what was foreseen, in sigmas. */
function trial(
  random: Random,
  from: 'free' | 'rims',
): { readonly air: number; readonly top: number; readonly halfHz: number } {
  const held = drawnTop(random);
  const rimN = between(random, 20, 150);
  const loose: PlateCase = { ...held, edge: from === 'free' ? 'free' : { kind: 'hinged', rotationalStiffnessN: rimN } };
  const glued: PlateCase = { ...held, edge: { kind: 'hinged', rotationalStiffnessN: rimN } };
  const seed = Math.floor(1e6 * random());
  // One top, loose and glued: the same lot for both.
  const [wasTrue, isTrue] = [loose, glued].map((plate) => truthOf(plate, seeded(seed)));
  const tapped = solved(wasTrue!, TAPPED).map(({ frequencyHz }) => ({
    name: undefined,
    frequencyHz: estimate(frequencyHz + READING_HZ * normal(random), READING_HZ),
  }));
  const shapes = stageShapes({ before: loose, after: glued, parameters: open, tapped });
  if (shapes.kind !== 'carried') throw new Error(shapes.kind);
  const sizes = {
    from: 'volume',
    volumeL: between(random, 11, 18),
    holeRadiusMm: between(random, 45, 52),
    holeEdgeMm: 3,
  } as const;
  const cavity = cavityOf(sizes, { tempC: 20, humidityPercent: 45 });
  if (cavity.kind !== 'cavity') throw new Error(cavity.kind);
  const foreseen = closedByModels(shapes, cavity);
  if (foreseen.kind !== 'closed') throw new Error(foreseen.kind);
  const off = ({ value, sigma }: { readonly value: number; readonly sigma: number }) =>
    estimate(value + sigma * normal(random), 0);
  const after = solved(isTrue!, 20);
  const truth = closedBox(
    after,
    estimate(1, 0),
    { air: cavity.air, volumeM3: off(cavity.volumeM3), ownHz: off(cavity.ownHz) },
    {
      frequencyHz: estimate(between(random, 190, 270), 0),
      pushedM2PerSqrtKg: estimate(between(random, 0.05, 0.13), 0),
    },
  );
  return {
    air: (truth.airHz.value - foreseen.airHz.value) / foreseen.airHz.sigma,
    top: (truth.topHz.value - foreseen.topHz.value) / foreseen.topHz.sigma,
    halfHz: HALF_WIDTH_95 * foreseen.topHz.sigma,
  };
}

export function closingReport(seed: number): string {
  const random = seeded(seed);
  return (['free', 'rims'] as const)
    .map((from) => {
      const told = Array.from({ length: PAIRS }, () => trial(random, from));
      const within = (of: 'air' | 'top') => told.filter((one) => Math.abs(one[of]) <= HALF_WIDTH_95).length;
      const halves = told.map(({ halfHz }) => halfHz).toSorted((a, b) => a - b);
      const pulls = (of: 'air' | 'top') => told.map((one) => one[of].toFixed(1)).join(' ');
      return [
        `tapped ${from}: of ${PAIRS} within the 95 %: air ${within('air')}, top ${within('top')}; half width of the top, median ${halves[halves.length >> 1]!.toFixed(0)} Hz`,
        `  pulls of the air ${pulls('air')}`,
        `  pulls of the top ${pulls('top')}`,
      ].join('\n');
    })
    .join('\n');
}
