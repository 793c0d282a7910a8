// From poles to what a luthier is told: only modes inside the band that ring down, are repeatable, known, and not the
// room's; couples that the data cannot tell apart become one entry.
import { type Estimate, estimate } from '../../quantity/estimate.ts';
import type { JointFit } from '../agree/joint-fit.ts';
import { onsetWaves } from '../agree/onset-waves.ts';
import { ofPiece, tapPatterns } from '../agree/tap-pattern.ts';
import { explained, noiseLevel } from '../search/order.ts';
import { GONE_NEPER } from '../search/start.ts';
import { poleCovariance } from '../search/uncertainty.ts';
import type { Mode, Wave } from '../tap.ts';
import { LOUD_ANSWER, LOUD_ROOM, OVER_ANSWER, roomAnswer, roomLoudness } from './room-answer.ts';
import { isOfRoom, type RoomPole } from './room-poles.ts';
import { type TrustedPole, trustedPoles } from './scatter.ts';

/** Two modes nearer than this many bandwidths may be one to the data. */
const COUPLE_BANDWIDTHS = 1.5;
/**
 * Their frequencies must be known to this part of their distance, and their Q to this part, to be believed; the lesser of
 * two so many times worse. Fitted to the pairs of tests/bench/modes.ts: what is told as two is found there and holds.
 */
const BELIEVED_DISTANCE = 0.06;
const BELIEVED_Q = 0.1;
const LESSER = 2;
/** Uncertainty of ln Q at which that of one of a couple is the root of two too small. */
const BEND = 0.12;
/** A mode (or couple) whose Q is not known to this part is not reported. */
const KNOWN_Q = 0.35;
/** Nor one whose frequency is not known to this part. */
const KNOWN_FREQUENCY = 0.01;
/** A decay slower than this is a steady tone, not a mode; a Q below this is not told from contact and room. */
const STEADY_PER_S = 0.6;
const LOWEST_Q = 9;
/**
 * A mode whose ring has so many dB less energy than the strongest is told only where it can be no answer of the room's to
 * the others: its Q is known with the answer counted, and its line is no less than this part of what the other lines leave
 * at its place (a living room answers 4e-4 of it in the mean, ten times that at its peaks, and the contact sounds as well).
 * Chosen by the rounds from 100000 on of tests/bench/random-plates.ts; how it does on others is in
 * docs/estimator-accuracy.md.
 */
const FAINT_DB = 25;
const LEAST_OF_SKIRTS = 0.03;
/** However loud the room: a Q known no better than this (one standard deviation of ln Q) is a guess, and so is the mode. */
const GUESSED_Q = 2;
/** Within a bandwidth of a mode this much stronger a second one is a trace of imperfect linearity, not a mode. */
const SHADOW_DB = 30;
/** Explained energy that makes a mode heard in a tap, in noise variances (chi-square, 2 degrees, p = 0.004). */
const HEARD = 11;

/** Where the room answers a mode is told if it is the piece's at three to two. Own choice. */
const LEAST_OF_PIECE = 0.6;

interface Candidate {
  readonly frequencyHz: Estimate;
  readonly lnQ: Estimate;
  /** of each of its poles, by tap: one, or two of a couple */
  readonly waves: readonly (readonly Wave[])[];
  readonly level: number;
  /** factor on the interval for what the room answers */
  readonly widened: number;
  /** factor on that of a couple's centre, see {@link bendOf}; 1 for a single mode */
  readonly bend: number;
  readonly mode: number;
  /** probability that it is the piece's, where the room answers */
  readonly ofPiece?: number;
}

/** The modes of the piece and those of the room, both ascending in frequency. */
export interface ReportedModes {
  readonly modes: readonly Mode[];
  readonly ofRoom: readonly Mode[];
  /** energy of the room's answer over the piece's, dB; only where it is too loud for weaker modes to be told */
  readonly roomAnswerDb?: number;
}

/**
 * The modes to report.
 * @param bandHz    lowest and highest frequency reported
 * @param roomPoles the room's own poles, reported apart from the piece's
 * @param early     how loudly a room answers the early part: then the pattern over the taps decides, not how faint a mode is
 *                  beside others; undefined where none answers
 */
export function reportedModes(
  joint: JointFit,
  holdOf: readonly number[],
  bandHz: readonly [number, number],
  roomPoles: readonly RoomPole[],
  early: number | undefined,
): ReportedModes {
  const answers = early !== undefined;
  const answer = roomAnswer(joint);
  const trusted = trustedPoles(joint, holdOf, answer);
  const waves = onsetWaves(joint);
  const lnBayes = answers ? tapPatterns(joint, waves) : undefined;
  const heard = heardEnough(joint, holdOf.length, answers ? 0 : OVER_ANSWER * answer);
  const startS = joint.startRow / joint.hearing.series[0]!.sampleRateHz;
  const candidates: Candidate[] = trusted.map(({ stated, widened }, m) => ({
    widened,
    bend: 1,
    frequencyHz: stated.frequencyHz,
    lnQ: lnQOf(stated),
    waves: [wavesOf(waves[m]!)],
    level: Math.sqrt(waves[m]!.reduce((sum, a) => sum + a * a, 0) / holdOf.length),
    mode: m,
  }));
  candidates.sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
  const plausible = candidates.filter(({ frequencyHz, lnQ, mode }) => {
    const decayPerS = Math.exp(trusted[mode]!.stated.lnDecay.value);
    const inBand = frequencyHz.value >= bandHz[0] && frequencyHz.value <= bandHz[1];
    const rings = decayPerS > STEADY_PER_S && decayPerS * startS < GONE_NEPER && lnQ.value > Math.log(LOWEST_Q);
    return inBand && heard[mode]! && rings;
  });
  const faint = Math.max(...plausible.map(ringing)) * 10 ** (-FAINT_DB / 10);
  const clear =
    lnBayes === undefined
      ? plausible.filter(
          (one) =>
            (ringing(one) > faint || overSkirts(one, candidates)) && !plausible.some((other) => shadows(other, one)),
        )
      : plausible
          .map((one) => ({ ...one, ofPiece: ofPiece(lnBayes[one.mode]!, one.lnQ.sigma) }))
          .filter((one) => one.ofPiece > LEAST_OF_PIECE);
  const distinct: Candidate[] = [];
  const modes: Mode[] = [];
  const ofRoom: Mode[] = [];
  for (const one of clear) {
    const last = distinct.at(-1);
    if (last === undefined || tellsApart(last, one, trusted)) distinct.push(one);
    else if (believed(one, last, trusted)) distinct[distinct.length - 1] = one;
    else if (!believed(last, one, trusted)) {
      distinct.pop();
      const couple = joinedCouple(joint, trusted, last, one);
      if (isKnown(couple, faint)) modes.push(asMode(couple, 'pair'));
    }
  }
  for (const one of distinct) {
    const rings = roomPoles.some((pole) => isOfRoom(pole, one.frequencyHz, one.lnQ));
    const coupled = clear.some((other) => other !== one && !isFar(one, other));
    // Where the room answers, how well a mode is known is in its probability.
    if (answers || isKnown(one, faint)) (rings ? ofRoom : modes).push(asMode(coupled ? bent(one) : one, 'single'));
  }
  modes.sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
  const loudness = answers ? roomLoudness(early, joint, lnBayes!, waves) : answer;
  const isLoud = loudness > (answers ? LOUD_ROOM : LOUD_ANSWER);
  return { modes, ofRoom, ...(isLoud && { roomAnswerDb: 10 * Math.log10(loudness) }) };
}

/**
 * Whether a mode is known well enough to be told. That the room answers makes a plain mode wider, not less there; a faint one
 * may be the answer.
 */
function isKnown(one: Candidate, faint: number): boolean {
  const { frequencyHz, lnQ, widened, bend } = one;
  const excuse = bend * (ringing(one) > faint ? widened : 1);
  return (
    lnQ.sigma < Math.min(GUESSED_Q, KNOWN_Q * excuse) &&
    frequencyHz.sigma < KNOWN_FREQUENCY * excuse * frequencyHz.value
  );
}

/** Energy of a mode's ring, up to a constant. */
const ringing = (one: Candidate): number => one.level ** 2 / bandwidthHz(one);

/** Height of a mode's line (its spectrum's square) at a frequency. */
const lineAt = (one: Candidate, frequencyHz: number): number =>
  one.level ** 2 / ((bandwidthHz(one) / 2) ** 2 + (frequencyHz - one.frequencyHz.value) ** 2);

/** Whether the line of a mode stands against what the lines of the others leave at its place. */
function overSkirts(one: Candidate, candidates: readonly Candidate[]): boolean {
  const { value } = one.frequencyHz;
  const skirts = candidates.reduce((sum, other) => (other === one ? sum : sum + lineAt(other, value)), 0);
  return lineAt(one, value) > LEAST_OF_SKIRTS * skirts;
}

/** ln Q = ln pi + ln f - ln a. */
const lnQOf = (pole: TrustedPole['stated']): Estimate =>
  estimate(
    Math.log(Math.PI * pole.frequencyHz.value) - pole.lnDecay.value,
    Math.hypot(pole.lnDecay.sigma, pole.frequencyHz.sigma / pole.frequencyHz.value),
  );

const bandwidthHz = (c: Candidate): number => c.frequencyHz.value / Math.exp(c.lnQ.value);

function shadows(strong: Candidate, weak: Candidate): boolean {
  const distanceHz = Math.abs(strong.frequencyHz.value - weak.frequencyHz.value);
  return distanceHz < bandwidthHz(strong) && 20 * Math.log10(strong.level / weak.level) > SHADOW_DB;
}

const isFar = (a: Candidate, b: Candidate): boolean =>
  Math.abs(a.frequencyHz.value - b.frequencyHz.value) > (COUPLE_BANDWIDTHS * (bandwidthHz(a) + bandwidthHz(b))) / 2;

/** Whether two neighbours are far enough apart, or both so well known, that they are two. */
const tellsApart = (a: Candidate, b: Candidate, trusted: readonly TrustedPole[]): boolean =>
  isFar(a, b) ||
  (believed(a, b, trusted) && believed(b, a, trusted, LESSER)) ||
  (believed(b, a, trusted) && believed(a, b, trusted, LESSER));

/**
 * Factor on the interval of one of a couple, or of their centre: near the limit of what can be told apart the leftover is no
 * paraboloid, and the Fisher information promises too much. The room's answer is not counted: it widens by itself. Fitted to
 * the coverage of the pairs of tests/bench/modes.ts.
 */
const bendOf = ({ lnQ, widened }: Candidate): number => Math.hypot(1, lnQ.sigma / (BEND * widened));

/** One of a couple, its interval widened. */
function bent(one: Candidate): Candidate {
  const factor = bendOf(one);
  const wider = ({ value, sigma }: Estimate): Estimate => estimate(value, sigma * factor);
  return { ...one, frequencyHz: wider(one.frequencyHz), lnQ: wider(one.lnQ) };
}

/**
 * Whether a mode is well known beside its neighbour: noise alone decides, scatter of holding moves both alike and the room's
 * answer makes both wider; but what is wider than their distance tells nothing apart.
 */
function believed(one: Candidate, neighbour: Candidate, trusted: readonly TrustedPole[], times = 1): boolean {
  const { noiseOnly, widened } = trusted[one.mode]!;
  const { frequencyHz, lnDecay } = noiseOnly;
  const distanceHz = Math.abs(one.frequencyHz.value - neighbour.frequencyHz.value);
  const most = times * widened;
  return (
    frequencyHz.sigma < BELIEVED_DISTANCE * most * distanceHz &&
    lnDecay.sigma < BELIEVED_Q * most &&
    one.frequencyHz.sigma < distanceHz / 2
  );
}

/** The common centre of two modes: means of frequency and ln Q, better known than either because their errors oppose. */
function joinedCouple(joint: JointFit, trusted: readonly TrustedPole[], a: Candidate, b: Candidate): Candidate {
  const scatter = (which: 'frequencyHz' | 'lnDecay'): number =>
    Math.max(
      ...[a, b].map(({ mode }) => {
        const { stated, noiseOnly } = trusted[mode]!;
        return Math.sqrt(Math.max(0, stated[which].sigma ** 2 - noiseOnly[which].sigma ** 2));
      }),
    );
  const noise = Math.max(trusted[a.mode]!.noise, trusted[b.mode]!.noise);
  const [frequencySigma, decaySigma] = centreSigmas(joint, a.mode, b.mode, noise);
  const factor = Math.min(bendOf(a), bendOf(b));
  return {
    frequencyHz: estimate(
      (a.frequencyHz.value + b.frequencyHz.value) / 2,
      factor * Math.hypot(frequencySigma, scatter('frequencyHz')),
    ),
    lnQ: estimate((a.lnQ.value + b.lnQ.value) / 2, factor * Math.hypot(decaySigma, scatter('lnDecay'))),
    waves: [...a.waves, ...b.waves],
    level: Math.hypot(a.level, b.level),
    widened: Math.max(a.widened, b.widened),
    bend: factor,
    mode: a.mode,
    ...(a.ofPiece !== undefined && b.ofPiece !== undefined && { ofPiece: Math.max(a.ofPiece, b.ofPiece) }),
  };
}

/** Standard deviations of the mean frequency, Hz, and mean ln decay of two modes, with their covariance, groups pooled. */
function centreSigmas({ search, fit }: JointFit, i: number, j: number, noise: number): [number, number] {
  let frequencyWeight = 0;
  let decayWeight = 0;
  fit.forEach((p, g) => {
    const n = 2 * p.poles.length;
    const c = poleCovariance(search.groups[g]!, p, noise);
    const [si, sj] = [i, j].map((m) => p.poles[m]!.decayPerS / (2 * Math.PI)) as [number, number];
    const at = (a: number, b: number): number => c[a * n + b]!;
    frequencyWeight += 4 / (si * si * at(2 * i, 2 * i) + sj * sj * at(2 * j, 2 * j) + 2 * si * sj * at(2 * i, 2 * j));
    decayWeight += 4 / (at(2 * i + 1, 2 * i + 1) + at(2 * j + 1, 2 * j + 1) + 2 * at(2 * i + 1, 2 * j + 1));
  });
  return [1 / Math.sqrt(frequencyWeight), 1 / Math.sqrt(decayWeight)];
}

const wavesOf = (interleaved: Float64Array): Wave[] =>
  Array.from({ length: interleaved.length / 2 }, (_, k) => ({
    cosine: sixFigures(interleaved[2 * k]!),
    sine: sixFigures(interleaved[2 * k + 1]!),
  }));

/** Every round is stored with them, and no microphone knows an amplitude better. */
const sixFigures = (x: number): number => Number(x.toPrecision(6));

function asMode(c: Candidate, resolution: Mode['resolution']): Mode {
  const q = Math.exp(c.lnQ.value);
  return {
    frequencyHz: c.frequencyHz,
    q: estimate(q, q * c.lnQ.sigma),
    levelDb: 20 * Math.log10(c.level),
    amplitudes: c.waves[0]!.map((_, k) =>
      sixFigures(Math.hypot(...c.waves.flatMap((of) => [of[k]!.cosine, of[k]!.sine]))),
    ),
    ...(c.waves.length === 1 && { waves: c.waves[0]! }),
    resolution,
    ...(c.ofPiece !== undefined && { ofPiece: c.ofPiece }),
  };
}

/** The room answers a mode within some bandwidths of it; so far away, Hz, half of its answer is met. */
const ANSWER_REACH_HZ = 40;

/** Whether each mode is heard in at least a third of the taps, louder than the room's answer to its neighbours. */
function heardEnough({ search, fit }: JointFit, taps: number, answer: number): boolean[] {
  const noise = HEARD * noiseLevel(search, fit);
  const gains = explained(search, fit);
  const { poles } = fit[0]!;
  return gains.map((ofTap, m) => {
    const near = poles.map(({ frequencyHz }, other) =>
      other === m ? 0 : answer / (1 + ((frequencyHz - poles[m]!.frequencyHz) / ANSWER_REACH_HZ) ** 2),
    );
    const answered = (k: number): number => near.reduce((sum, part, other) => sum + part * gains[other]![k]!, 0);
    return ofTap.filter((gain, k) => gain > noise + answered(k)).length >= taps / 3;
  });
}
