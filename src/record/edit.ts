// Edits of a record: plain functions from record to record. Each leaves the rest of the document as it was.
import type { Beginning, InstrumentRecord, Pin, Stage, Step } from './record.ts';

/** Replaces the step with the given id by what `change` makes of it. */
export function changeStep(record: InstrumentRecord, stepId: string, change: (step: Step) => Step): InstrumentRecord {
  return { ...record, steps: record.steps.map((step) => (step.id === stepId ? change(step) : step)) };
}

/** A new step after the last one, in its stage and climate until told otherwise. */
export function appendStep(record: InstrumentRecord, step: Step): InstrumentRecord {
  return { ...record, steps: [...record.steps, step] };
}

/** A step as it begins: nothing done or measured yet. */
export function freshStep(id: string, atIso: string, previous: Step | undefined): Step {
  return {
    id,
    atIso,
    stage: previous?.stage ?? 'thicknessed',
    done: '',
    cuts: [],
    climate: {},
    heard: '',
    rounds: [],
  };
}

/** The stage of what is on the bench when a record is begun. */
const stageBegunWith: Readonly<Record<Beginning, Stage>> = {
  board: 'board',
  'joined-top': 'joined',
  'braced-top': 'braced',
  'closed-guitar': 'strung',
  'old-guitar': 'strung',
};

/** A record with its first step, in the stage of what is on the bench; as it is where nobody asked. */
export function begun(record: InstrumentRecord, stepId: string): InstrumentRecord {
  if (record.begunWith === undefined) return record;
  const stage = stageBegunWith[record.begunWith];
  const first = appendStep(record, { ...freshStep(stepId, record.createdAtIso, undefined), stage });
  if (record.job === undefined) return first;
  // An old guitar is its own model, as it is now.
  const repair = { recordId: record.id, stepId, topDamage: [], oldWood: {}, newWood: {}, matchBy: 'both' } as const;
  return { ...first, box: { repair } };
}

/** Names a mode at a step; an earlier name of the same mode at that step gives way. */
export function pinMode(record: InstrumentRecord, pin: Pin): InstrumentRecord {
  const others = record.pins.filter(
    (known) => !(known.stepId === pin.stepId && (known.frequencyHz === pin.frequencyHz || known.mode === pin.mode)),
  );
  return { ...record, pins: pin.mode === '' ? others : [...others, pin] };
}

/** The object without a key where the value is undefined, so that nothing undefined is ever stored. */
export function withField<T extends object, K extends keyof T>(object: T, key: K, value: T[K] | undefined): T {
  const { [key]: _old, ...rest } = object;
  return (value === undefined ? rest : { ...rest, [key]: value }) as T;
}
