// What a report says of one instrument: where it came out, how it came there, in what air. Figures only; the words and
// the drawing are the view's.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { type NamedSignature, namedSignatures } from './named-modes.ts';
import type { Series } from './series.ts';
import { seriesKey } from './series.ts';
import { courseUnder, type ShownCourse } from './shown-course.ts';

/** Least and most of a figure that was noted at several steps. */
export interface Range {
  readonly least: number;
  readonly most: number;
}

export interface ReportFacts {
  /** the last signature: of a closed box the one with the hole open and nothing fixed to it */
  readonly final: NamedSignature | undefined;
  /** the last signature of every stage and support before that, in the order of building */
  readonly earlier: readonly NamedSignature[];
  /** in the order of building; at least two measured steps each */
  readonly courses: readonly ShownCourse[];
  /** %RH and °C over all steps where they were noted */
  readonly humidityPercent: Range | undefined;
  readonly tempC: Range | undefined;
  readonly lastMassG: { readonly massG: number; readonly step: Step } | undefined;
}

export function reportFacts(record: InstrumentRecord): ReportFacts {
  const all = namedSignatures(record);
  const lastStep = all.at(-1)?.step;
  const ofLast = all.filter((one) => one.step === lastStep);
  const final = ofLast.find((one) => isPlainBox(one)) ?? ofLast[0];
  const lastOf = new Map(all.map((one) => [seriesKey({ stage: one.step.stage, support: one.signature.support }), one]));
  const counted = new Map<string, { conditions: Series; steps: number }>();
  for (const { step, signature } of all) {
    const key = seriesKey({ stage: step.stage, support: signature.support });
    const steps = (counted.get(key)?.steps ?? 0) + 1;
    counted.set(key, { conditions: { stage: step.stage, support: signature.support }, steps });
  }
  const heaviest = record.steps.findLast((step) => step.massG !== undefined);
  return {
    final,
    earlier: [...lastOf.values()].filter((one) => one !== final),
    courses: [...counted.values()]
      .filter(({ steps }) => steps > 1)
      .map(({ conditions }) => courseUnder(record, conditions)),
    humidityPercent: rangeOf(record.steps.map((step) => step.climate.humidityPercent)),
    tempC: rangeOf(record.steps.map((step) => step.climate.tempC)),
    lastMassG: heaviest?.massG === undefined ? undefined : { massG: heaviest.massG, step: heaviest },
  };
}

const isPlainBox = ({ signature: { support } }: NamedSignature): boolean =>
  support.hold === 'box-open' && support.addedMassG === undefined && support.addedMassOnBackG === undefined;

function rangeOf(values: readonly (number | undefined)[]): Range | undefined {
  const known = values.filter((value) => value !== undefined);
  return known.length === 0 ? undefined : { least: Math.min(...known), most: Math.max(...known) };
}

/**
 * How long a mode rings until it has fallen by 60 dB, s: T60 = ln(1000) Q / (pi f).
 * @param mode frequency in Hz and Q, both > 0
 * Source: Q = pi f tau for an amplitude falling as exp(-t / tau); 60 dB is a factor 1000 in amplitude. Sigma by
 * JCGM 100:2008 eq. 12.
 */
export function ringS(mode: { readonly frequencyHz: Estimate; readonly q: Estimate }): Estimate {
  const { frequencyHz, q } = mode;
  const value = (Math.log(1000) * q.value) / (Math.PI * frequencyHz.value);
  return estimate(value, value * Math.hypot(q.sigma / q.value, frequencyHz.sigma / frequencyHz.value));
}
