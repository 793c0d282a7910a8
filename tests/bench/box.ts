// Figures of the box: coverage of the inverse, right verdicts of the guided rounds, and their time.
// Run: npx tsx tests/bench/box.ts
import { boxModes, type Part } from '../../src/box/pistons.ts';
import { type Doing, whichPart } from '../../src/box/which-part.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { inverseCoverage, type Plan } from '../box/inverse-coverage.ts';
import { type FullBox, measuredRound, type Random, randomBox, seeded } from '../box/synthetic.ts';

const PLANS: readonly Plan[] = ['two-piston', 'three-piston', 'three-piston-back-lump'];

export function benchBox(trials: number): void {
  for (const plan of PLANS)
    for (const sigmaHz of [0.1, 0.3, 0.6]) {
      const startMs = performance.now();
      const { solved, refused, labels, inside } = inverseCoverage(plan, trials, sigmaHz, 1);
      const each = ((performance.now() - startMs) / trials).toFixed(1);
      console.log(`${plan}, peaks ± ${sigmaHz} Hz: ${solved} of ${trials} solved, ${each} ms each`, refused, labels);
      for (const [name, { share, medianRelativeSigma }] of Object.entries(inside))
        console.log(
          `  ${name}: ${(100 * share).toFixed(1)} % inside 95 %, sigma ${(100 * medianRelativeSigma).toFixed(2)} %`,
        );
    }
  for (const sigmaHz of [0.1, 0.3, 0.6]) console.log(`verdicts, peaks ± ${sigmaHz} Hz:`, verdictRates(trials, sigmaHz));
}

function verdictRates(trials: number, sigmaHz: number) {
  const random = seeded(3);
  const rates = {
    peaks: 0,
    sure: 0,
    sureAndWrong: 0,
    shared: 0,
    swappedLabels: 0,
    swapsFound: 0,
    rightLabelsDenied: 0,
  };
  for (let i = 0; i < trials; i++) {
    const box = randomBox(random);
    const base = peaks(box, 'open', 'free', 0, sigmaHz, random);
    const done: { doing: Doing; peaks: ReturnType<typeof peaks> }[] = [
      { doing: 'hole-blocked', peaks: peaks(box, 'blocked', 'free', 0, sigmaHz, random) },
      { doing: 'back-damped', peaks: peaks(box, 'open', 'held', 0, sigmaHz, random) },
      { doing: 'mass-at-bridge', peaks: peaks(box, 'open', 'free', 0.025, sigmaHz, random) },
    ];
    const most = boxModes(box).map(({ energyShare }) => {
      const [part] = Object.entries(energyShare).reduce((a, b) => (b[1] > a[1] ? b : a));
      return part as Part;
    });
    const exchange: Record<Part, Part> = { air: 'air', top: 'back', back: 'top' };
    const labelled = (label: (part: Part) => Part) => base.map((peak, k) => ({ ...peak, label: label(most[k]!) }));
    const right = whichPart({ base: labelled((part) => part), done }).verdicts;
    const swapped = whichPart({ base: labelled((part) => exchange[part]), done }).verdicts;
    right.forEach((verdict, k) => {
      rates.peaks++;
      if (verdict.behavesLike === 'shared') rates.shared++;
      else if (verdict.strength >= 0.95) {
        rates.sure++;
        if (verdict.behavesLike !== most[k]) rates.sureAndWrong++;
      }
      if (verdict.labelDenied) rates.rightLabelsDenied++;
      if (most[k] !== 'air') {
        rates.swappedLabels++;
        if (swapped[k]!.labelDenied) rates.swapsFound++;
      }
    });
  }
  return rates;
}

function peaks(
  box: FullBox,
  hole: 'open' | 'blocked',
  back: 'free' | 'held',
  lumpKg: number,
  sigmaHz: number,
  random: Random,
) {
  const lump = lumpKg > 0 ? { addedAtBridgeKg: estimate(lumpKg, 1e-4) } : {};
  return Object.values(measuredRound(box, { hole, back, ...lump }, sigmaHz, random).peaksHz)
    .sort((a, b) => a.value - b.value)
    .map((frequencyHz) => ({ frequencyHz }));
}

if (process.argv[1]?.endsWith('box.ts')) benchBox(4000);
