import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cutsMade, planNow } from '../../src/record/cuts.ts';
import { from1to2 } from '../../src/record/migrate-1-2.ts';
import { readRecordText } from '../../src/record/read.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { once } from '../once.ts';

/** A record as the program of version 1 wrote it: taps, plan, cuts and floors in both their forms, a box, strings. */
const text = readFileSync(new URL('formats/platewright-record-1-workshop.json', import.meta.url), 'utf8');

interface Profile1 {
  readonly braceId: string;
  readonly profile: readonly { readonly atMm: number; readonly heightMm: number }[];
}
interface Step1 {
  readonly id: string;
  readonly done: string;
  readonly massG?: number;
  readonly shavings: readonly { readonly after?: readonly Profile1[]; readonly [key: string]: unknown }[];
}
const before = JSON.parse(text) as { readonly steps: readonly Step1[]; readonly [key: string]: unknown };
const migrated = once((): InstrumentRecord => {
  const read = readRecordText(text);
  if (read.kind !== 'record') throw new Error(JSON.stringify(read));
  return read.record;
});
const stepOf = (done: string) => migrated().steps.find((step) => step.done === done)!;

/** Height between the places of a profile, straight; worked out here anew. */
function heightAt(profile: Profile1['profile'], atMm: number): number {
  const next = profile.findIndex((place) => place.atMm >= atMm);
  if (next <= 0) return (next === 0 ? profile[0]! : profile.at(-1)!).heightMm;
  const [a, b] = [profile[next - 1]!, profile[next]!];
  return a.heightMm + ((b.heightMm - a.heightMm) * (atMm - a.atMm)) / (b.atMm - a.atMm);
}

describe('a record of version 1', () => {
  test('comes over with everything that is not a cut, a copied weight or a floor as it was', () => {
    const { steps, floors: _floors, plan: planBefore, schema: _schema, ...rest } = before;
    const { steps: stepsNow, floors: _f, plan: planAfter, schema: _s, ...restNow } = migrated();
    expect(restNow).toEqual(rest);
    const planBut = (plan: unknown) => ({ ...(plan as object), braces: [] });
    expect(planBut(planAfter)).toEqual(planBut(planBefore));
    expect(stepsNow.map(({ cuts: _cuts, massG: _mass, ...step }) => step)).toEqual(
      steps.map(({ shavings: _shavings, massG: _mass, ...step }) => step),
    );
  });

  test('an even cut that was drawn on the plan is its stretch and its depth, and all that was worked out of it goes', () => {
    const [cut, ...others] = stepOf('even cut on the plan').cuts;
    expect(others).toEqual([]);
    expect(cut).toMatchObject({ brace: 'X brace, lower end treble', fromMm: 100, toMm: 180, offMm: 0.5 });
    expect(Object.keys(cut!).sort()).toEqual(['brace', 'braceIds', 'fromMm', 'id', 'offMm', 'toMm']);
  });

  test('a cut of both legs is one; grams that the plan comes to as well are not kept as weighed, others are', () => {
    const [cut] = migrated().steps[3]!.cuts;
    expect(cut).toMatchObject({ brace: 'X lower legs', fromMm: 190, toMm: 310, offMm: 1 });
    expect(cut!.braceIds).toHaveLength(2);
    expect(cut!.drawn).toBeUndefined();
    expect(cut!.weighedG).toBeUndefined();
    expect(cutsMade(migrated()).find(({ cut: one }) => one.id === cut!.id)!.massOffG).toBeCloseTo(0.71, 1);
    const document = structuredClone(before) as unknown as { steps: { shavings: { massOffG?: number }[] }[] };
    document.steps[3]!.shavings[0]!.massOffG = 0.74;
    const weighed = readRecordText(JSON.stringify(document));
    expect(weighed.kind === 'record' && weighed.record.steps[3]!.cuts[0]!.weighedG).toBe(0.74);
  });

  test('of two legs cut unlike, the depth told is that of the deeper one, and both stay as they were drawn', () => {
    const document = structuredClone(before) as unknown as {
      steps: { shavings: { after: { profile: { atMm: number; heightMm: number }[] }[] }[] }[];
    };
    const [, other] = document.steps[3]!.shavings[0]!.after;
    for (const place of other!.profile) if (place.heightMm === 13) place.heightMm = 13.5;
    const unlike = readRecordText(JSON.stringify(document));
    if (unlike.kind !== 'record') throw new Error(unlike.because);
    const [cut] = unlike.record.steps[3]!.cuts;
    expect(cut!.drawn).toEqual(document.steps[3]!.shavings[0]!.after);
    expect(cut).not.toHaveProperty('version1');
  });

  test('words where a place should be are carried, and the brace is taken from end to end', () => {
    const document = structuredClone(before) as unknown as { steps: { shavings: Record<string, unknown>[] }[] };
    const shaving = document.steps[3]!.shavings[0]!;
    Object.assign(shaving, { fromMm: 'the crossing', heightLeftMm: 2.5 });
    const [cut] = (from1to2(document as never) as { steps: { cuts: Record<string, unknown>[] }[] }).steps[3]!.cuts;
    expect(cut).toMatchObject({ fromMm: 'the crossing' });
    // 2.5 mm is what stands at the end of the leg: worked out, and so not kept as told.
    expect(cut).not.toHaveProperty('heightLeftMm');
  });

  test('a cut drawn on a brace that the plan has not, or that has no heights, stays in words with its drawing beside it', () => {
    for (const spoil of [
      (drawn: { braceId: string; profile: unknown[] }) => {
        drawn.braceId = 'a brace of another plan';
      },
      (drawn: { braceId: string; profile: unknown[] }) => {
        drawn.profile = [];
      },
    ]) {
      const document = structuredClone(before) as unknown as {
        steps: { shavings: { after: { braceId: string; profile: unknown[] }[] }[] }[];
      };
      const [shaving] = document.steps[3]!.shavings;
      spoil(shaving!.after[1]!);
      const led = readRecordText(JSON.stringify(document));
      if (led.kind !== 'record') throw new Error(led.because);
      expect(led.record.steps[3]!.cuts[0]).toMatchObject({ braceIds: [], version1: { after: shaving!.after } });
    }
  });

  test('a depth that was corrected in the diary alone is the maker’s last word; what the plan had is kept beside it', () => {
    const [cut] = stepOf('corrected in the diary').cuts;
    expect(cut).toMatchObject({ offMm: 1.5, fromMm: 100, toMm: 180 });
    expect(cut!.drawn).toBeUndefined();
    expect((cut as { version1?: unknown }).version1).toEqual({
      after: before.steps.find(({ done }) => done === 'corrected in the diary')!.shavings[0]!.after,
    });
    const made = cutsMade(migrated()).find(({ cut: one }) => one.id === cut!.id)!;
    expect(made.heightOffMm).toBe(1.5);
  });

  test('heights at places stay the drawn profile they were', () => {
    const [cut] = stepOf('heights at places').cuts;
    expect(cut!.drawn).toEqual(before.steps.find(({ done }) => done === 'heights at places')!.shavings[0]!.after);
  });

  test('what was written in words only stays as it was written', () => {
    const [cut] = stepOf('in words only').cuts;
    expect(cut).toMatchObject({
      brace: 'tone bar, the long one',
      braceIds: [],
      fromMm: 20,
      toMm: 60,
      offMm: 0.3,
      weighedG: 0.2,
      heightLeftMm: 5,
    });
  });

  test('the plan stands as it stood, to the hundredths that version 1 kept, but for what the diary had corrected', () => {
    const left = new Map<string, Profile1['profile']>();
    for (const { done, shavings } of before.steps)
      for (const { braceId, profile } of shavings.flatMap(({ after: drawn }) => drawn ?? []))
        if (done !== 'corrected in the diary') left.set(braceId, profile);
    const corrected = stepOf('corrected in the diary').cuts[0]!.braceIds;
    const now = planNow(migrated(), migrated().plan!);
    let compared = 0;
    for (const { id, profile } of now.braces) {
      const was = left.get(id);
      if (was === undefined || corrected.includes(id)) continue;
      for (let atMm = 0; atMm < 400; atMm += 7) {
        expect(Math.abs(heightAt(profile, atMm) - heightAt(was, atMm))).toBeLessThan(0.05);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(200);
  });

  test('a weight that was only copied from the step before is none; one that was typed stays', () => {
    const weights = migrated().steps.map(({ massG }) => massG);
    before.steps.forEach(({ massG }, i) => {
      const isCopied = i > 0 && massG === before.steps[i - 1]!.massG;
      expect(weights[i]).toBe(isCopied ? undefined : massG);
    });
    expect(stepOf('even cut on the plan').massG).toBeUndefined();
    expect(stepOf('in words only').massG).toBe(191.3);
  });

  test('a floor whose words name one brace goes to it; the others wait until they are tied to one', () => {
    const named = migrated().plan!.braces[3]!;
    const drawn = (before['plan'] as InstrumentRecord['plan'])!.braces.map(({ floors }) => floors);
    expect(
      migrated()
        .plan!.braces.filter((_, i) => i !== 3)
        .map(({ floors }) => floors),
    ).toEqual(drawn.toSpliced(3, 1));
    expect(named.floors.slice(0, -1)).toEqual(drawn[3]);
    const added = named.floors.at(-1)!;
    expect(added.heightMm).toBe(4.5);
    // It holds where the brace stands as high, and not at the ends that were carved lower.
    for (let atMm = 0; atMm < 170; atMm++)
      expect(atMm > added.fromMm && atMm < added.toMm, `${atMm} mm`).toBe(heightAt(named.profile, atMm) > 4.5);
    expect(migrated().floors.map(({ brace }) => brace)).toEqual(['X lower legs', 'the big one']);
  });

  test('whatever stands in its place is led without a throw, and what is read is a record', () => {
    fc.assert(
      fc.property(fc.json(), fc.json(), fc.json(), (steps, plan, floors) => {
        const led = from1to2({
          ...before,
          steps: JSON.parse(steps),
          plan: JSON.parse(plan),
          floors: JSON.parse(floors),
        });
        expect(typeof led).toBe('object');
      }),
    );
    const mutated = fc
      .array(fc.tuple(fc.nat(text.length), fc.nat(30), fc.constantFrom('', '"', '[', '{}', 'null', '0')), {
        minLength: 1,
      })
      .map((cuts) => cuts.reduce((all, [at, length, put]) => all.slice(0, at) + put + all.slice(at + length), text));
    fc.assert(
      fc.property(mutated, (broken) => {
        expect(['record', 'refused']).toContain(readRecordText(broken).kind);
      }),
      { numRuns: 60 },
    );
  });
});
