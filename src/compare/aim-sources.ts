// What a new top is to read at each stage, from every source that says something of it, side by side: which agree, and the one figure
// to work by.
import type { NewTopInBox } from '../box/new-top-in-box.ts';
import { type Damage, type ReplacementAim, type TopRatios, translatedMode, USUAL_SHARING } from '../box/replacement.ts';
import type { StageForecast } from '../box/stage-jump.ts';
import { difference, type Estimate, estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import type { OldMode } from './old-signature.ts';

export const aimStages = ['free', 'braced', 'rims', 'box', 'strung'] as const;
type AimStage = (typeof aimStages)[number];

/** Where an aim comes from: the old reading, the old top as drawn, the solved box, the maker's earlier instruments. */
export type AimSource = 'reading' | 'drawing' | 'box' | 'earlier';

interface SourcedAim {
  readonly source: AimSource;
  readonly aimHz: Estimate;
}

/** One mode at one stage. */
export interface AimRow {
  readonly stage: AimStage;
  readonly mode: string;
  /** what the old instrument read there */
  readonly oldHz?: Estimate;
  /** what was wrong with the old top when it was read, where the aim rests on that reading */
  readonly damage: readonly Damage[] | 'unasked';
  readonly sources: readonly SourcedAim[];
  /** the sources the figure to work by rests on */
  readonly agreeing: readonly AimSource[];
  /** undefined where nothing is known, or two or more sources deny one another */
  readonly workHz?: Estimate;
  /** what the new top gives as it is drawn */
  readonly newDrawnHz?: Estimate;
  /** the mode is the body's, not the new top's to aim for */
  readonly staysWithBody?: true;
}

/** Computed modes of a drawn top by name, lowest first. */
export type DrawnModes = readonly { readonly name: string; readonly frequencyHz: Estimate }[];

export interface AimInputs {
  readonly readings: readonly OldMode[];
  /** in the order of the readings */
  readonly aims: readonly ReplacementAim[];
  readonly ratios: TopRatios;
  /** by stage, the tops as drawn; absent where they are not drawn or not computed yet */
  readonly drawn: { readonly [S in 'braced' | 'rims']?: { readonly old?: DrawnModes; readonly fresh?: DrawnModes } };
  readonly box?: NewTopInBox;
  /** whether the old box was tapped with its strings on or without */
  readonly boxReadAt?: 'box' | 'strung';
  /** from the maker's earlier instruments, backward from the wished top of the closed box */
  readonly earlier: (stage: 'braced' | 'rims', wishedTopHz: Estimate) => StageForecast | undefined;
}

/** What a loose top's mode that becomes the box's top is called. */
export const LOOSE_TOP = 'monopole';

/** Computed modes shown of a drawn top. */
const DRAWN_SHOWN = 3;

/**
 * The top alone at the rims, dry-clamped on the bench, against glued to them all round as the box has it: one sigma, a share of its
 * frequency. Source: ours; between a hinge and a clamp a top's lowest mode moves by about a fifth.
 */
const HELD_OTHERWISE_SHARE = 0.05;

const STAGE_OF = {
  board: undefined,
  joined: 'free',
  thicknessed: 'free',
  braced: 'braced',
  'on-rims': 'rims',
  closed: 'box',
  strung: 'strung',
} as const;

/** All rows, by stage, as they are worked through. */
export function aimRows(inputs: AimInputs): readonly AimRow[] {
  const ofBox = [...readRows(inputs, ['box', 'strung'])];
  for (const { part, frequencyHz } of inputs.box?.peaks ?? [])
    for (const stage of ['box', 'strung'] as const) {
      const known = ofBox.findIndex((row) => row.stage === stage && row.mode === part);
      const row: AimRow = ofBox[known] ?? { stage, mode: part, damage: [], sources: [], agreeing: [] };
      const { staysWithBody: _, ...open } = row;
      const aimHz = stage === (inputs.boxReadAt ?? 'box') ? frequencyHz : otherwiseStrung(frequencyHz);
      const next: AimRow = { ...open, sources: [...row.sources, { source: 'box', aimHz }] };
      if (known < 0) ofBox.push(next);
      else ofBox[known] = next;
    }
  const boxRows = ofBox.map(combined);
  const wished = boxRows.find(({ stage, mode }) => stage === 'box' && mode === 'top')?.workHz;
  const loose = (['braced', 'rims'] as const).flatMap((stage) => looseRows(inputs, stage, wished));
  return [...readRows(inputs, ['free']), ...loose]
    .map(combined)
    .concat(boxRows)
    .toSorted((a, b) => aimStages.indexOf(a.stage) - aimStages.indexOf(b.stage));
}

function readRows({ readings, aims }: AimInputs, wanted: readonly AimStage[]): readonly AimRow[] {
  return readings.flatMap(({ readAt, mode, frequencyHz, damage }, i): readonly AimRow[] => {
    const stage = STAGE_OF[readAt];
    const aim = aims[i]!;
    if (stage === undefined || !wanted.includes(stage)) return [];
    return [
      {
        stage,
        mode,
        oldHz: frequencyHz,
        damage: aim.kind === 'aim' ? damage : [],
        sources: aim.kind === 'aim' ? [{ source: 'reading', aimHz: aim.aimHz }] : [],
        agreeing: [],
        ...(aim.kind === 'back-stays' && { staysWithBody: true }),
      },
    ];
  });
}

/** Of the loose top: what was read, what the drawings give, what the box and the earlier instruments ask. */
function looseRows(inputs: AimInputs, stage: 'braced' | 'rims', wished: Estimate | undefined): readonly AimRow[] {
  const read = readRows(inputs, [stage]);
  const { old = [], fresh = [] } = inputs.drawn[stage] ?? {};
  const sharing = USUAL_SHARING[stage === 'braced' ? 'braced, free' : 'on the rims'];
  const fromOthers: readonly (SourcedAim | undefined)[] = [
    stage === 'rims' && inputs.box ? { source: 'box', aimHz: atTheBench(inputs.box.topAloneHz) } : undefined,
    wished && earlierAim(inputs.earlier(stage, wished)),
  ];
  const others = fromOthers.filter((one) => one !== undefined);
  const names = new Set([
    ...read.map(({ mode }) => mode),
    ...(others.length > 0 ? [LOOSE_TOP] : []),
    ...(old.length > 0 ? old : fresh).slice(0, DRAWN_SHOWN).map(({ name }) => name),
  ]);
  return [...names].map((mode): AimRow => {
    const known = read.find((row) => row.mode === mode);
    const drawnOld = old.find(({ name }) => name === mode)?.frequencyHz;
    const newDrawnHz = fresh.find(({ name }) => name === mode)?.frequencyHz;
    return {
      stage,
      mode,
      damage: [],
      agreeing: [],
      ...known,
      sources: [
        ...(known?.sources ?? []),
        ...(drawnOld
          ? [{ source: 'drawing' as const, aimHz: translatedMode(drawnOld, inputs.ratios, sharing).aimHz }]
          : []),
        ...(mode === LOOSE_TOP ? others : []),
      ],
      ...(newDrawnHz && { newDrawnHz }),
    };
  });
}

/**
 * What strings on or off may move a peak of the box by, one sigma, as a share: their pull, and what they add at the bridge. Common
 * practice, no source.
 */
const STRINGS_SHARE = 0.015;

const otherwiseStrung = ({ value, sigma }: Estimate): Estimate =>
  estimate(value, Math.hypot(sigma, STRINGS_SHARE * value));

const atTheBench = ({ value, sigma }: Estimate): Estimate =>
  estimate(value, Math.hypot(sigma, HELD_OTHERWISE_SHARE * value));

function earlierAim(forecast: StageForecast | undefined): SourcedAim | undefined {
  if (forecast?.kind !== 'expected') return undefined;
  const { frequencyHz, low95Hz, high95Hz } = forecast;
  return { source: 'earlier', aimHz: estimate(frequencyHz, (high95Hz - low95Hz) / (2 * HALF_WIDTH_95)) };
}

/** Whether two figures may be of one thing: their difference is within its 95 %. */
const agree = (a: Estimate, b: Estimate): boolean => {
  const { value, sigma } = difference(a, b);
  return Math.abs(value) <= HALF_WIDTH_95 * sigma;
};

/**
 * The one figure to work by: the mean of the largest number of sources that all agree with one another, weighted by 1 / sigma². Its
 * sigma is the weighted mean of theirs, not less: they rest on the same woods and readings, so agreeing makes none of them surer.
 */
function combined(row: AimRow): AimRow {
  const { sources } = row;
  const groups = sources.map(({ aimHz }) => agreeingWith(aimHz, sources));
  const [best] = groups.toSorted((a, b) => b.length - a.length);
  if (best === undefined || (sources.length > 1 && best.length < 2)) return row;
  const weights = best.map(({ aimHz }) => 1 / aimHz.sigma ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (of: (aim: Estimate) => number) =>
    best.reduce((sum, { aimHz }, i) => sum + weights[i]! * of(aimHz), 0) / total;
  return {
    ...row,
    agreeing: best.map(({ source }) => source),
    workHz: estimate(
      mean(({ value }) => value),
      mean(({ sigma }) => sigma),
    ),
  };
}

/** Sources that agree with this one and with one another, the surest taken first. */
function agreeingWith(first: Estimate, sources: readonly SourcedAim[]): readonly SourcedAim[] {
  const group: SourcedAim[] = [];
  for (const one of sources.toSorted((a, b) => a.aimHz.sigma - b.aimHz.sigma))
    if (agree(first, one.aimHz) && group.every(({ aimHz }) => agree(aimHz, one.aimHz))) group.push(one);
  return group;
}
