// Figures of the wood folder: the inverse check against solids, the misfit of three real half-tops, and how often stated
// 95 % intervals cover the truth of drawn boards.
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { readBoard } from '../../src/wood/board-constants.ts';
import { boardModes } from '../../src/wood/board-modes.ts';
import { elasticStart, withShear } from '../../src/wood/elastic-start.ts';
import { assignPeaks } from '../../src/wood/peak-assignment.ts';
import { speciesById } from '../../src/wood/species.ts';
import halfTops from '../reference/wood-half-tops.json' with { type: 'json' };
import solids from '../reference/wood-solid-plates.json' with { type: 'json' };
import { drawBoard } from '../wood/board-draw.ts';
import { normals } from '../wood/seeded.ts';
import { seeded } from './tap-signals.ts';
import { drawUnnamed, likeWood, scoreNaming, unlikeWood } from './unnamed-boards.ts';

const start = elasticStart(speciesById('sitka-spruce'));
const within = (value: number, sigma: number) => ({ value, sigma });

function inverseLines(): string[] {
  const ranks = { half_plate: [1, 3, 0], joined_plate: [3, 1, 0] } as const;
  return (['half_plate', 'joined_plate'] as const).map((name) => {
    const { lengthMm, widthMm, thicknessMm, material, extrapolatedHz } = solids.plates[name];
    const [long, cross, twist] = ranks[name].map((k) => ({
      frequencyHz: within(extrapolatedHz[k]!, 0.001 * extrapolatedHz[k]!),
    }));
    const reading = readBoard(
      {
        board: {
          lengthMm: within(lengthMm, 0.3),
          widthMm: within(widthMm, 0.3),
          thicknessMm: within(thicknessMm, 0.03),
          massG: within(lengthMm * widthMm * thicknessMm * material.densityKgM3 * 1e-6, 0.2),
        },
        taps: { 'long-grain-bending': long!, 'cross-grain-bending': cross!, twist: twist! },
      },
      start,
    );
    if (reading.kind !== 'read') return `${name}: ${reading.kind}`;
    const { eLongGpa, eCrossGpa, gGpa } = reading.constants;
    const error = (value: number, truthMpa: number) => `${(100 * (value / (truthMpa / 1000) - 1)).toFixed(2)} %`;
    return `inverse ${name}: E_L ${error(eLongGpa.value, material.eL)}, E_R ${error(eCrossGpa.value, material.eR)}, G_LR ${error(gGpa.value, material.gLR)}`;
  });
}

function halfTopLines(): string[] {
  return Object.entries(halfTops.plates).flatMap(([name, plate]) => {
    const reading = assignPeaks(
      {
        lengthMm: within(plate.lengthMm, 0.5),
        widthMm: within(plate.widthMm, 0.5),
        thicknessMm: within(plate.thicknessMm, 0.05),
        massG: within(plate.massG, 0.2),
      },
      plate.peaks.map(({ remeasuredHz, scatterHz, q }) => ({
        frequencyHz: within(remeasuredHz, scatterHz),
        q: within(q, 0.05 * q),
      })),
      start,
    );
    if (reading.kind !== 'assigned') return [`half-top ${name}: ${reading.because}`];
    const peaks = reading.peaks.map(({ frequencyHz, pattern, misfitPercent, isUsed }) =>
      pattern === undefined
        ? `${frequencyHz.value} none`
        : `${frequencyHz.value} (${pattern.m},${pattern.n}) ${isUsed ? 'used' : `${misfitPercent!.toFixed(2)} %`}`,
    );
    const { elastic, gradients } = reading.fit;
    const spread = (gradient: (typeof gradients)['eLong']) => Math.hypot(...Object.values(gradient).flat());
    const beside = (
      pa: number,
      gradient: (typeof gradients)['eLong'],
      stated: { value: number; spreadPercent: number },
    ) =>
      `${(pa / 1e9).toFixed(3)} ± ${((spread(gradient) * pa) / 1e9).toFixed(3)} (stated ${stated.value} ± ${stated.spreadPercent} %)`;
    return [
      `half-top ${name}: ${peaks.join('; ')}; lead ${reading.lead.toFixed(1)}; unseen ${reading.unseen.map(({ pattern: { m, n } }) => `(${m},${n})`).join(' ')}`,
      `  E_L ${beside(elastic.eLongPa, gradients.eLong, plate.stated.eLGpa)}, E_R ${beside(elastic.eCrossPa, gradients.eCross, plate.stated.eRGpa)}, G_LR ${beside(elastic.gPa, gradients.g, plate.stated.gLRGpa)}`,
    ];
  });
}

/** The other way round: the modes that the constants stated by the source give, beside the peaks named as above. */
function statedLines(): string[] {
  return Object.entries(halfTops.plates).map(([name, { lengthMm, widthMm, thicknessMm, massG, stated, peaks }]) => {
    const size = { lengthM: lengthMm / 1000, widthM: widthMm / 1000, thicknessM: thicknessMm / 1000 };
    const density = massG / 1000 / (size.lengthM * size.widthM * size.thicknessM);
    const elastic = withShear(
      {
        eLongPa: stated.eLGpa.value * 1e9,
        eCrossPa: stated.eRGpa.value * 1e9,
        gPa: stated.gLRGpa.value * 1e9,
        nuLR: stated.nuLR.value,
      },
      start.shearRatios,
    );
    const modes = boardModes(size, elastic, density).filter(({ frequencyHz }) => frequencyHz < 300);
    const beside = modes.map(({ pattern: { m, n }, frequencyHz }) => {
      const near = peaks.map(({ remeasuredHz }) => remeasuredHz / frequencyHz - 1);
      const best = near.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
      return `(${m},${n}) ${frequencyHz.toFixed(1)} Hz, nearest peak ${(100 * best).toFixed(1)} %`;
    });
    return `half-top ${name} by the stated constants: ${beside.join('; ')}`;
  });
}

function coverageLines(draws: number): string[] {
  const plans = [
    { name: 'half-top 550 x 205', lengthMm: 550, widthMm: 205 },
    { name: 'joined 540 x 420', lengthMm: 540, widthMm: 420 },
    { name: 'near the meeting aspect 520 x 262', lengthMm: 520, widthMm: 262 },
  ];
  const keys = ['densityKgM3', 'eLongGpa', 'eCrossGpa', 'gGpa'] as const;
  return plans.map(({ name, ...plan }) => {
    const normal = normals(2024);
    const inside = { densityKgM3: 0, eLongGpa: 0, eCrossGpa: 0, gGpa: 0 };
    let read = 0;
    for (let k = 0; k < draws; k++) {
      const { truth, reading } = drawBoard(normal, plan, { functions: 4, perParity: 4 });
      if (reading.kind !== 'read') continue;
      read++;
      for (const key of keys) {
        const { value, sigma } = reading.constants[key];
        if (Math.abs(value - truth[key]) < HALF_WIDTH_95 * sigma) inside[key]++;
      }
    }
    const shares = keys.map((key) => `${key} ${((100 * inside[key]) / read).toFixed(1)} %`);
    return `coverage of 95 % intervals, ${name}, ${read} of ${draws} draws read: ${shares.join(', ')}`;
  });
}

/** Random uneven boards (0.6 % a mode), one mode in seven unheard, every second list with a stray peak. */
function namingLines(draws: number): string[] {
  const plans = [
    [550, 210, 4],
    [540, 420, 2.8],
    [500, 200, 3],
    [520, 300, 3.2],
  ] as const;
  return plans.map(([lengthMm, widthMm, thicknessMm]) => {
    const normal = normals(11);
    const counts = { right: 0, unsure: 0, wrong: 0, none: 0 };
    for (let k = 0; k < draws; k++) {
      const eLongPa = 12e9 * Math.exp(0.15 * normal());
      const wood = {
        eLongPa,
        eCrossPa: 0.09 * eLongPa * Math.exp(0.25 * normal()),
        gPa: 0.068 * eLongPa * Math.exp(0.2 * normal()),
        nuLR: 0.38 + 0.05 * normal(),
      };
      const density = 420 * Math.exp(0.06 * normal());
      const size = { lengthM: lengthMm / 1000, widthM: widthMm / 1000, thicknessM: thicknessMm / 1000 };
      const modes = boardModes(size, withShear(wood, start.shearRatios), density).slice(0, 9);
      const heard = modes
        .filter((_, rank) => rank < 2 || normal() < 1.1)
        .map(({ frequencyHz }) => ({ frequencyHz: within(frequencyHz * (1 + 0.006 * normal()), 0.001 * frequencyHz) }));
      if (k % 2 === 1) heard.push({ frequencyHz: within(modes[3]!.frequencyHz * 1.09, 0.1) });
      const board = {
        lengthMm: within(lengthMm, 0.3),
        widthMm: within(widthMm, 0.3),
        thicknessMm: within(thicknessMm, 0.02),
        massG: within(lengthMm * widthMm * thicknessMm * density * 1e-6, 0.2),
      };
      const reading = assignPeaks(board, heard, start);
      if (reading.kind !== 'assigned') {
        counts.none++;
        continue;
      }
      const { elastic } = reading.fit;
      const isNear = (key: 'eLongPa' | 'eCrossPa' | 'gPa') => Math.abs(elastic[key] / wood[key] - 1) < 0.08;
      if (isNear('eLongPa') && isNear('eCrossPa') && isNear('gPa')) counts.right++;
      else if (!reading.isSure) counts.unsure++;
      else counts.wrong++;
    }
    const { right, unsure, wrong, none } = counts;
    return `unlabelled peaks, ${lengthMm} x ${widthMm}: ${right} of ${draws} right, ${unsure} wrong and said unsure, ${wrong} wrong, ${none} refused`;
  });
}

/** Boards drawn another way, with one to three strays each: wrong names among the peaks used, where they are believed and not. */
function unnamedLines(draws: number): string[] {
  return (
    [
      ['that wood could be', likeWood],
      ['of impossible Q', unlikeWood],
    ] as const
  ).map(([name, strayQ]) => {
    const scores = Array.from({ length: draws }, (_, i) => scoreNaming(drawUnnamed(seeded(900_000 + i), strayQ)));
    const named = scores.filter((score) => score !== undefined);
    const part = (isSure: boolean) => {
      const some = named.filter((score) => score.isSure === isSure);
      return `${some.filter(({ isWrong }) => isWrong).length} of ${some.length}`;
    };
    const sum = (key: 'taken' | 'lost') => named.reduce((total, score) => total + score[key], 0);
    return `strays ${name}: wrong ${part(true)} sure, ${part(false)} unsure; ${draws - named.length} not named; ${sum('taken')} strays taken for modes, ${sum('lost')} modes for strays`;
  });
}

/**
 * All figures as lines of text.
 * @param draws boards drawn per plan for the coverage, 400 for a standard error of 1 %
 */
export function woodFigures(draws = 400): readonly string[] {
  return [
    ...inverseLines(),
    ...halfTopLines(),
    ...statedLines(),
    ...namingLines(Math.ceil(draws / 10)),
    ...unnamedLines(Math.ceil(draws / 5)),
    ...coverageLines(draws),
  ];
}
