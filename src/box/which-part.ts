// Which peak is which: the maker blocks the hole, damps the back, adds a mass, moves the tap, and each doing says how much
// of every peak belongs to the part that was touched.
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import { normalCdf } from '../quantity/quantile.ts';
import { shareByDamping, shareByMass, shareByStopping } from './energy-share.ts';
import type { Part } from './pistons.ts';

/** A peak of one round. */
export interface PartPeak {
  readonly frequencyHz: Estimate;
  readonly q?: Estimate;
  /** level at the onset, dB, any reference that all rounds share */
  readonly levelDb?: number;
}

/** What was done in a round, the tap at the bridge unless said. */
export type Doing = 'hole-blocked' | 'back-damped' | 'mass-at-bridge' | 'tapped-on-back';

/** The rounds taken: the box as it is, and those in which something was done. */
export interface PartRounds {
  /** hole open, back free, no mass; with the maker's label where there is one */
  readonly base: readonly (PartPeak & { readonly label?: Part })[];
  readonly done: readonly { readonly doing: Doing; readonly peaks: readonly PartPeak[] }[];
}

/** What one doing says of one peak. */
export interface Evidence {
  readonly doing: Doing;
  readonly part: Part;
  /** share of the part in the peak's energy, 0 to 1 but for reading error */
  readonly share: Estimate;
}

export interface PeakVerdict {
  readonly frequencyHz: Estimate;
  readonly evidence: readonly Evidence[];
  /** combined shares; undefined where no round told */
  readonly shares: Readonly<Record<Part, Estimate | undefined>>;
  /** `shared`: two parts move alike in it; `none`: none of the three, as a dipole; `undecided`: the rounds leave it open */
  readonly behavesLike: Part | 'shared' | 'none' | 'undecided';
  /** probability, from the readings' uncertainty, that the named part moves most in it (or that none does), 0.5 to 1 */
  readonly strength: number;
  /** the maker's label names another part, with a strength of 0.95 or more */
  readonly labelDenied: boolean;
}

export interface WhichPart {
  /** one for each base peak, in order of frequency */
  readonly verdicts: readonly PeakVerdict[];
  /** rounds that could not be used, and why: wrong number of peaks, or a Q or level wanting */
  readonly unused: readonly {
    readonly doing: Doing;
    readonly because: 'peak-count' | 'q-wanting' | 'level-wanting' | 'nothing-moved';
    readonly have: number;
    readonly need: number;
  }[];
}

/** How well the level of one peak repeats between taps on different spots, dB. Common practice, no source. */
const LEVEL_SIGMA_DB = 3;
/** A peak is a part's when that part leads the next by this share; below it they share the peak. */
const LEAD = 0.1;
/** Less than this in every part: the peak is none of the three. */
const LITTLE = 0.15;
/** Strength at which a label is denied. */
const SURE = 0.95;

/**
 * What each peak behaves like.
 * Blocking stops the air, damping stops or dulls the back, a mass loads the top: each gives the part's share in every peak
 * from the frequencies (`energy-share.ts`); a tap on the back gives the back's share from the levels, where the top's is
 * known. With no more than three peaks and two shares known, the third is what is left.
 * @throws RangeError if there are fewer than two base peaks
 * Source: our derivation, see tests/box/which-part.test.ts; rates of right verdicts in tests/bench/box.ts.
 */
export function whichPart(rounds: PartRounds): WhichPart {
  const base = [...rounds.base].sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
  if (base.length < 2) throw new RangeError(`whichPart: ${base.length} base peaks, need 2`);
  const evidence: Evidence[][] = base.map(() => []);
  const unused: WhichPart['unused'][number][] = [];
  // the tap on the back leans on the top's share, so it comes last
  const inOrder = [...rounds.done].sort((a, b) => rank(a.doing) - rank(b.doing));
  for (const { doing, peaks } of inOrder) {
    const sorted = [...peaks].sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
    const shares = sharesFrom(doing, base, sorted, evidence);
    if ('because' in shares) unused.push({ doing, ...shares });
    else
      shares.forEach((share, k) => {
        evidence[k]!.push({ doing, part: PART_TOUCHED[doing], share });
      });
  }
  return { verdicts: base.map((peak, k) => verdict(peak, evidence[k]!, base.length <= 3)), unused };
}

const PART_TOUCHED: Readonly<Record<Doing, Part>> = {
  'hole-blocked': 'air',
  'back-damped': 'back',
  'mass-at-bridge': 'top',
  'tapped-on-back': 'back',
};

const rank = (doing: Doing): number => (doing === 'tapped-on-back' ? 1 : 0);

type Unused = Omit<WhichPart['unused'][number], 'doing'>;

function sharesFrom(
  doing: Doing,
  base: readonly PartPeak[],
  peaks: readonly PartPeak[],
  evidence: readonly (readonly Evidence[])[],
): readonly Estimate[] | Unused {
  const n = base.length;
  const have = peaks.length;
  const hz = (list: readonly PartPeak[]) => list.map((peak) => peak.frequencyHz);
  const wanting = (because: Unused['because'], need: number): Unused => ({ because, have, need });
  switch (doing) {
    case 'hole-blocked':
      return have === n - 1 ? spread(shareByStopping, hz(base), hz(peaks)) : wanting('peak-count', n - 1);
    case 'mass-at-bridge':
      if (have !== n) return wanting('peak-count', n);
      return anyMoved(base, peaks) ? spread(shareByMass, hz(base), hz(peaks)) : wanting('nothing-moved', n);
    case 'back-damped': {
      if (have === n - 1) return spread(shareByStopping, hz(base), hz(peaks));
      if (have !== n) return wanting('peak-count', n - 1);
      const before = base.map(lossHz);
      const after = peaks.map(lossHz);
      if (!before.every(isKnown) || !after.every(isKnown)) return wanting('q-wanting', n);
      return spread(shareByDamping, before, after);
    }
    case 'tapped-on-back': {
      if (have !== n) return wanting('peak-count', n);
      const tops = evidence.map((list) => list.find(({ part }) => part === 'top')?.share);
      const rise = base.map(({ levelDb }, k) => {
        const moved = peaks[k]!.levelDb;
        return levelDb === undefined || moved === undefined ? undefined : estimate(moved - levelDb, LEVEL_SIGMA_DB);
      });
      if (!rise.every(isKnown) || !tops.every((top) => top !== undefined)) return wanting('level-wanting', n);
      return spread(shareByLevel, rise, tops);
    }
  }
}

/** The back's share where a tap on the back raised the levels: 10^(rise / 10) ~ back share / top share in each mode. */
function shareByLevel(riseDb: readonly number[], topShare: readonly number[]): readonly number[] {
  const raw = riseDb.map((rise, k) => 10 ** (rise / 10) * Math.max(topShare[k]!, 0));
  const sum = raw.reduce((total, value) => total + value, 0);
  return raw.map((value) => value / sum);
}

/** f(a, b) entry by entry as estimates, from independent a and b. */
function spread(
  f: (a: readonly number[], b: readonly number[]) => readonly number[],
  a: readonly Estimate[],
  b: readonly Estimate[],
): readonly Estimate[] {
  return a.map((_, k) => propagated((all) => f(all.slice(0, a.length), all.slice(a.length))[k]!, [...a, ...b]).result);
}

function isKnown(value: Estimate | undefined): value is Estimate {
  return value !== undefined;
}

function lossHz({ frequencyHz, q }: PartPeak): Estimate | undefined {
  if (q === undefined) return undefined;
  return propagated(([f, sharpness]) => f! / sharpness!, [frequencyHz, q]).result;
}

function anyMoved(base: readonly PartPeak[], peaks: readonly PartPeak[]): boolean {
  return base.some(({ frequencyHz: before }, k) => {
    const after = peaks[k]!.frequencyHz;
    return before.value - after.value > 2 * Math.hypot(before.sigma, after.sigma);
  });
}

function verdict(
  peak: PartPeak & { readonly label?: Part },
  evidence: readonly Evidence[],
  onlyTheThree: boolean,
): PeakVerdict {
  const combined = { air: combine(evidence, 'air'), top: combine(evidence, 'top'), back: combine(evidence, 'back') };
  // a fourth peak may be neither air nor top without being the back's
  const shares = onlyTheThree ? withTheRest(combined) : combined;
  const ranked = (Object.entries(shares) as [Part, Estimate | undefined][])
    .flatMap(([part, share]) => (share ? [{ part, share }] : []))
    .sort((a, b) => b.share.value - a.share.value);
  const [first, second] = ranked;
  const frequencyHz = peak.frequencyHz;
  const open = { frequencyHz, evidence, shares, labelDenied: false };
  if (!first) return { ...open, behavesLike: 'undecided', strength: 0.5 };
  const isComplete = Object.values(combined).every((share) => share !== undefined);
  if (isComplete && first.share.value < LITTLE)
    return {
      ...open,
      behavesLike: 'none',
      strength: aboveChance(LITTLE - first.share.value, first.share.sigma),
      labelDenied: peak.label !== undefined,
    };
  // one part known alone: it has the peak if it has more than half of it
  const rival = second?.share ?? estimate(0.5, 0);
  const lead = first.share.value - rival.value;
  const strength = aboveChance(lead, Math.hypot(first.share.sigma, rival.sigma));
  const own = peak.label === undefined ? undefined : shares[peak.label];
  if (!second && lead <= 0) {
    const denied = own !== undefined && aboveChance(-lead, first.share.sigma) >= SURE;
    return { ...open, behavesLike: 'undecided', strength: 0.5, labelDenied: denied };
  }
  if (lead < LEAD) return { ...open, behavesLike: 'shared', strength };
  const labelDenied = peak.label !== undefined && peak.label !== first.part && strength >= SURE;
  return { ...open, behavesLike: first.part, strength, labelDenied };
}

/** Weighted mean of what several doings say of one part. Source: weights 1 / sigma², JCGM 100:2008 (GUM) section 4.2. */
function combine(evidence: readonly Evidence[], part: Part): Estimate | undefined {
  const of = evidence.filter((e) => e.part === part).map(({ share }) => share);
  if (of.length <= 1) return of[0];
  const weights = of.map(({ sigma }) => 1 / Math.max(sigma, 1e-6) ** 2);
  const total = weights.reduce((sum, w) => sum + w, 0);
  return estimate(of.reduce((sum, { value }, i) => sum + value * weights[i]!, 0) / total, 1 / Math.sqrt(total));
}

/** With two shares known, the third is what they leave of the whole. */
function withTheRest(
  shares: Readonly<Record<Part, Estimate | undefined>>,
): Readonly<Record<Part, Estimate | undefined>> {
  const unknown = (Object.keys(shares) as Part[]).filter((part) => shares[part] === undefined);
  if (unknown.length !== 1) return shares;
  const known = Object.values(shares).filter(isKnown);
  const rest = 1 - known.reduce((sum, { value }) => sum + value, 0);
  return { ...shares, [unknown[0]!]: estimate(rest, Math.hypot(...known.map(({ sigma }) => sigma))) };
}

/** Probability that a quantity with this mean and sigma is above zero. */
function aboveChance(mean: number, sigma: number): number {
  return normalCdf(mean / Math.max(sigma, 1e-9));
}
