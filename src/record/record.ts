// The instrument record: the one document that everything known about an instrument goes into. It is written out in
// workshop units (mm, g, Hz, degrees C, %RH) with the unit in every name, and read back only through this schema, so
// that what the rest of the program sees is always well formed. Fields this version does not know are carried along.
import * as v from 'valibot';
import { boxPartSchema } from './box-part.ts';
import { atLeastZero, climateSchema, finite, id, instant, line, positive, prose } from './fields.ts';
import { planSchema, profileSchema } from './plan-part.ts';
import { roundSchema } from './round-part.ts';
import { pieceSchema } from './wood-part.ts';

/** Identifies the document type and its version; migrations lead forward to this one. */
export const recordFormat = 'platewright-record/2';

export const stages = ['board', 'joined', 'thicknessed', 'braced', 'on-rims', 'closed', 'strung'] as const;

/** Wood taken off: what was done, from which everything else about it is worked out (cuts.ts). */
const cutSchema = v.looseObject({
  id,
  /** the brace in the maker's words */
  brace: line,
  /** braces of the plan that were cut alike; none while the brace is named in words only */
  braceIds: v.array(id),
  /** the stretch, counted from the first end of the brace */
  fromMm: v.optional(finite),
  toMm: v.optional(finite),
  /** even depth over the stretch; it runs out at both ends as brace/cut.ts has it */
  offMm: v.optional(atLeastZero),
  /** heights measured after it at places of the brace; the cut is straight between them */
  heights: v.optional(profileSchema),
  /** profiles after it, drawn by hand, one for each brace */
  drawn: v.optional(v.array(v.looseObject({ braceId: id, profile: profileSchema }))),
  /** shavings on the scale; worked out where they were not weighed */
  weighedG: v.optional(atLeastZero),
  /** lowest height of the stretch as measured after the cut; worked out where it was not */
  heightLeftMm: v.optional(atLeastZero),
});

const stepSchema = v.looseObject({
  id,
  atIso: instant,
  stage: v.picklist(stages),
  done: prose,
  cuts: v.array(cutSchema),
  /** on the scale at this step; never carried over from another */
  massG: v.optional(positive),
  climate: climateSchema,
  heard: prose,
  /** the one photograph of a step of older records; see `stepPhotos` */
  photoId: v.optional(id),
  photos: v.optional(v.array(v.looseObject({ photoId: id, of: line }))),
  /** the trust check of the day: record and step of the reference stick */
  trust: v.optional(v.looseObject({ recordId: id, stepId: id, verdict: v.picklist(['go', 'look-again', 'too-few']) })),
  /** the air something was glued in; true humidity as in climate */
  gluing: v.optional(climateSchema),
  rounds: v.array(roundSchema),
});

const targetSchema = v.looseObject({
  id,
  mode: line,
  stage: v.picklist(stages),
  frequencyHz: positive,
  toleranceHz: positive,
  /** typed, or the signature it was taken from */
  origin: prose,
});

const pinSchema = v.looseObject({ id, stepId: id, mode: line, frequencyHz: positive });
/** A floor whose brace is named in words only; those of the plan's braces are theirs. */
const floorSchema = v.looseObject({ id, brace: line, heightMm: positive });

/** What a record can be begun with. */
const beginnings = ['board', 'joined-top', 'braced-top', 'closed-guitar', 'old-guitar'] as const;
export type Beginning = (typeof beginnings)[number];

/** What is planned with an old guitar. */
const plannedJobs = ['new-top', 'repair', 'voicing'] as const;
export type PlannedJob = (typeof plannedJobs)[number];

const jobSchema = v.looseObject({
  planned: v.picklist(plannedJobs),
  /** lines of the list that were ticked by hand, and when */
  ticked: v.array(v.looseObject({ line: id, atIso: instant })),
});

export const recordSchema = v.looseObject({
  schema: v.literal(recordFormat),
  id,
  kind: v.picklist(['instrument', 'reference-stick', 'stock']),
  name: line,
  model: line,
  hand: v.picklist(['right', 'left']),
  createdAtIso: instant,
  /** what was on the bench when the record was begun; absent where nobody asked */
  begunWith: v.optional(v.picklist(beginnings)),
  /** of an old guitar */
  job: v.optional(jobSchema),
  archived: v.boolean(),
  /** one of the maker's best-loved instruments */
  loved: v.optional(v.boolean()),
  /** set while the record lies in the bin */
  deletedAtIso: v.optional(instant),
  notes: prose,
  steps: v.array(stepSchema),
  targets: v.array(targetSchema),
  /** names the maker gave to modes; they win over what the program would call them */
  pins: v.array(pinSchema),
  floors: v.array(floorSchema),
  /** wood that belongs to this instrument, or lies on the stock shelf */
  pieces: v.optional(v.array(pieceSchema)),
  box: v.optional(boxPartSchema),
  plan: v.optional(planSchema),
});

// The fields this version does not know are kept in the value but left out of the type: no code may lean on them.
type DeepReadonly<T> = T extends (infer U)[]
  ? readonly DeepReadonly<U>[]
  : T extends object
    ? { readonly [K in keyof T as string extends K ? never : K]: DeepReadonly<T[K]> }
    : T;

export type InstrumentRecord = DeepReadonly<v.InferOutput<typeof recordSchema>>;
export type Step = InstrumentRecord['steps'][number];
export type Round = Step['rounds'][number];
export type TapNote = Round['taps'][number];
export type StoredFit = NonNullable<Round['fit']>;
export type StoredMode = StoredFit['modes'][number];
export type Cut = Step['cuts'][number];
export type ClimateNote = Step['climate'];
export type Support = Round['support'];
export type Target = InstrumentRecord['targets'][number];
export type Pin = InstrumentRecord['pins'][number];
export type Piece = NonNullable<InstrumentRecord['pieces']>[number];
export type Plan = NonNullable<InstrumentRecord['plan']>;
export type PlanLayout = NonNullable<Plan['laidFor']>;
export type PlanBrace = Plan['braces'][number];
export type PlanWood = Plan['wood'];
export type PlanSlab = Plan['bridge'];
export type PlanPoint = PlanBrace['from'];
export type StoredProfile = PlanBrace['profile'];
export type BoxPart = NonNullable<InstrumentRecord['box']>;
export type Stage = (typeof stages)[number];

/** A new, empty record. Ids and times come from the caller, so that the same call gives the same document. */
export function newRecord(given: {
  readonly id: string;
  readonly createdAtIso: string;
  readonly name: string;
  readonly kind?: InstrumentRecord['kind'];
  readonly model?: string;
  readonly hand?: InstrumentRecord['hand'];
  readonly begunWith?: Beginning | undefined;
  readonly planned?: PlannedJob | undefined;
}): InstrumentRecord {
  return {
    schema: recordFormat,
    id: given.id,
    kind: given.kind ?? 'instrument',
    name: given.name,
    model: given.model ?? '',
    hand: given.hand ?? 'right',
    createdAtIso: given.createdAtIso,
    ...(given.begunWith && { begunWith: given.begunWith }),
    ...(given.planned && { job: { planned: given.planned, ticked: [] } }),
    archived: false,
    notes: '',
    steps: [],
    targets: [],
    pins: [],
    floors: [],
  };
}

/** The few facts a list of instruments needs, so that it opens without reading the documents. */
export interface RecordSummary {
  readonly id: string;
  readonly kind: InstrumentRecord['kind'];
  readonly name: string;
  readonly model: string;
  readonly hand: InstrumentRecord['hand'];
  readonly stage: Stage | undefined;
  readonly steps: number;
  readonly changedAtIso: string;
  readonly archived: boolean;
  readonly deleted: boolean;
}

/** Summary of a record as of the moment given. */
export function summarise(record: InstrumentRecord, changedAtIso: string): RecordSummary {
  return {
    id: record.id,
    kind: record.kind,
    name: record.name,
    model: record.model,
    hand: record.hand,
    stage: record.steps.at(-1)?.stage,
    steps: record.steps.length,
    changedAtIso,
    archived: record.archived,
    deleted: record.deletedAtIso !== undefined,
  };
}
