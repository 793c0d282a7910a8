// From version 1 of the record to version 2: a shaving becomes a cut, a fact from which profiles, grams and heights follow;
// floors that were named in words go to their brace; a weight that was copied from the step before is no weighing.
import * as v from 'valibot';
import { afterEvenCut, deepestMm, type EvenCut } from '../brace/cut.ts';
import { heightAtMm, lowestMm, type Profile } from '../brace/profile.ts';
import { massBetweenG, profileAfter } from './cuts.ts';
import { floorsFor, planBraceLengthMm } from './plan-brace.ts';
import { planSchema, profileSchema } from './plan-part.ts';
import type { Cut, Plan, PlanBrace } from './record.ts';

type Obj = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Obj => typeof value === 'object' && value !== null && !Array.isArray(value);
const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
const numberOf = (value: unknown): number | undefined => (typeof value === 'number' ? value : undefined);

/** Version 1 kept heights, places and grams to hundredths. */
const HUNDREDTH = 0.011;
/** Places were rounded too: where the wood is steep, a hundredth along it is more than one in height. */
const SAME_HEIGHT_MM = 0.05;

/**
 * A document of version 1 in version 2. What is not as version 1 had it is carried along as it is: the reader will say so.
 * Nothing is lost: what the new form has no place for stays in the cut as `version1`.
 */
export function from1to2(document: Obj): Obj {
  const parsed = v.safeParse(planSchema, document['plan']);
  let standing: Plan | undefined = parsed.success ? (parsed.output as Plan) : undefined;
  let weighed: number | undefined;
  const steps = listOf(document['steps']).map((step) => {
    if (!isObject(step)) return step;
    const { shavings, massG, ...rest } = step;
    const cuts = listOf(shavings).map((shaving, i) => {
      if (!isObject(shaving)) return shaving;
      const { cut, plan } = cutOf(shaving, `${String(rest['id'])}-c${i + 1}`.slice(-64), standing);
      standing = plan;
      return cut;
    });
    // Version 1 put the weight of the step before into each new step.
    const isCopied = weighed !== undefined && massG === weighed;
    weighed = numberOf(massG) ?? weighed;
    return { ...rest, cuts, ...(massG === undefined || isCopied ? {} : { massG }) };
  });
  return withFloors({ ...document, steps }, parsed.success ? (parsed.output as Plan) : undefined);
}

interface Known {
  readonly cut: Obj;
  readonly plan: Plan | undefined;
}

/** One shaving as a cut, and the plan after it. */
function cutOf(shaving: Obj, id: string, plan: Plan | undefined): Known {
  const { after, brace, massOffG, heightLeftMm, ...rest } = shaving;
  const words = { ...rest, id, brace };
  const inWords: Known = {
    cut: {
      ...words,
      braceIds: [],
      ...(massOffG === undefined ? {} : { weighedG: massOffG }),
      ...(heightLeftMm === undefined ? {} : { heightLeftMm }),
      ...(after === undefined ? {} : { version1: { after } }),
    },
    plan,
  };
  const profiles = v.safeParse(v.array(v.looseObject({ braceId: v.string(), profile: profileSchema })), after);
  if (!profiles.success || plan === undefined) return inWords;
  const on = profiles.output.flatMap(({ braceId, profile }) => {
    const found = plan.braces.find((known) => known.id === braceId);
    return found === undefined || found.profile.length === 0 || profile.length === 0 ? [] : [{ brace: found, profile }];
  });
  if (on.length === 0 || on.length < profiles.output.length) return inWords;

  const grams = on.reduce((sum, { brace: known, profile }) => sum + massBetweenG(plan, known, profile), 0);
  const lowest = Math.min(
    ...on.map(({ brace: known, profile }) =>
      lowestMm(profile, numberOf(rest['fromMm']) ?? 0, numberOf(rest['toMm']) ?? planBraceLengthMm(known)),
    ),
  );
  const isOurs = (theirs: unknown, ours: number) => typeof theirs === 'number' && Math.abs(theirs - ours) <= HUNDREDTH;
  const isEven =
    isEvenCut(rest) && on.every(({ brace: known, profile }) => isSame(known, evenly(known, rest), profile));
  const deepest = Math.max(...on.map(({ brace: known, profile }) => deepestMm(known.profile, profile)));
  // A depth that is not the drawn one was corrected in the diary, which the plan did not follow: the maker's last word counts.
  const isCorrected = isEvenCut(rest) && Math.abs(rest.offMm - deepest) > SAME_HEIGHT_MM;
  const cut = {
    ...words,
    braceIds: on.map(({ brace: known }) => known.id),
    ...(isEven || isCorrected ? {} : { drawn: profiles.output }),
    ...(massOffG === undefined || isOurs(massOffG, grams) ? {} : { weighedG: massOffG }),
    ...(heightLeftMm === undefined || isOurs(heightLeftMm, lowest) ? {} : { heightLeftMm }),
    ...(isCorrected && !isEven ? { version1: { after } } : {}),
  };
  const left = new Map(
    on.map(({ brace: known }) => [known.id, [...profileAfter(known, cut as unknown as Cut)]] as const),
  );
  const braces = plan.braces.map((known) => {
    const profile = left.get(known.id);
    return profile === undefined ? known : { ...known, profile };
  });
  return { cut, plan: { ...plan, braces } };
}

const isEvenCut = (given: Obj): given is Obj & EvenCut =>
  [given['fromMm'], given['toMm'], given['offMm']].every((value) => typeof value === 'number');

const evenly = (brace: PlanBrace, cut: EvenCut): Profile => afterEvenCut(brace.profile, planBraceLengthMm(brace), cut);

/** Whether two profiles of a brace are the same to what version 1 rounded away. */
const isSame = (brace: PlanBrace, a: Profile, b: Profile): boolean =>
  [0, planBraceLengthMm(brace), ...[...a, ...b].map(({ atMm }) => atMm)].every(
    (atMm) => Math.abs(heightAtMm(a, atMm) - heightAtMm(b, atMm)) <= SAME_HEIGHT_MM,
  );

/** Floors whose words name a brace of the plan go to it; the others stay where they are. */
function withFloors(document: Obj, plan: Plan | undefined): Obj {
  const floors = listOf(document['floors']);
  if (plan === undefined || floors.length === 0 || !isObject(document['plan'])) return document;
  const plain = (name: unknown) => String(name).trim().toLowerCase();
  const braceOf = (floor: unknown): PlanBrace | undefined => {
    const named = plan.braces.filter((brace) => isObject(floor) && plain(brace.name) === plain(floor['brace']));
    const [only] = named;
    return named.length === 1 && isObject(floor) && typeof floor['heightMm'] === 'number' ? only : undefined;
  };
  const braces = plan.braces.map((brace) => {
    const own = floors.filter((floor) => braceOf(floor) === brace) as readonly Obj[];
    return own.length === 0
      ? brace
      : { ...brace, floors: [...brace.floors, ...own.flatMap(({ heightMm }) => floorsFor(brace, Number(heightMm)))] };
  });
  return {
    ...document,
    plan: { ...document['plan'], braces },
    floors: floors.filter((floor) => braceOf(floor) === undefined),
  };
}
