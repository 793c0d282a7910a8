// What is wrong with an instrument before its repair: ticked for a part, or marked where it is.
import { BODY_STATIONS } from '../plate/body-outline.ts';
import type { Point } from '../plate/outline.ts';
import type { BoxRepair } from './box-edit.ts';
import { withField } from './edit.ts';
import { bodyFrom, planOutline } from './plan-outline.ts';
import type { InstrumentRecord } from './record.ts';

export type DamageMark = NonNullable<BoxRepair['marks']>[number];
export type DamagedFace = DamageMark['face'];

/** All that is wrong with a part, each once. */
export function damagesOf(repair: BoxRepair, face: DamagedFace): BoxRepair['topDamage'] {
  const ticked = face === 'top' ? repair.topDamage : (repair.backDamage ?? []);
  const marked = (repair.marks ?? []).filter((mark) => mark.face === face).map(({ damage }) => damage);
  return [...new Set([...ticked, ...marked])];
}

/** Marks a place, or changes a mark where it stands; a part with a mark is no longer said to be sound. */
export function withMark(repair: BoxRepair, mark: DamageMark): BoxRepair {
  const { marks = [] } = repair;
  const isKnown = marks.some(({ id }) => id === mark.id);
  return {
    ...withField(repair, mark.face === 'top' ? 'isTopSound' : 'isBackSound', undefined),
    marks: isKnown ? marks.map((known) => (known.id === mark.id ? mark : known)) : [...marks, mark],
  };
}

export const withoutMark = (repair: BoxRepair, id: string): BoxRepair => {
  const left = (repair.marks ?? []).filter((mark) => mark.id !== id);
  return withField(repair, 'marks', left.length === 0 ? undefined : left);
};

/** The outline that marks are put on, mm: as drawn, else by the inside sizes, else a usual body. */
export function markedOutline({ plan, box }: InstrumentRecord): readonly Point[] {
  const drawn = box?.repair?.oldPlan ?? plan;
  if (drawn !== undefined) return planOutline(drawn);
  const { bodyLengthMm, lowerBoutMm, waistMm, upperBoutMm } = box?.cavity ?? {};
  const usual = BODY_STATIONS.concert;
  const lengthMm = bodyLengthMm ?? usual.lengthMm;
  const at = (station: { readonly atMm: number; readonly widthMm: number }, widthMm = station.widthMm) => ({
    atMm: (station.atMm * lengthMm) / usual.lengthMm,
    widthMm,
  });
  const outline = bodyFrom({
    lengthMm,
    lowerBout: at(usual.lowerBout, lowerBoutMm),
    waist: at(usual.waist, waistMm),
    upperBout: at(usual.upperBout, upperBoutMm),
  });
  return planOutline({ outline });
}
