// Records with every optional field now there and now not, unknown fields at every level, and hostile texts.
import fc from 'fast-check';
import type { Bundle } from '../../src/record/archive.ts';
import { photoIds, tapIds } from '../../src/record/archive.ts';
import { type InstrumentRecord, recordFormat, stages } from '../../src/record/record.ts';
import { bridges, holds, tapKinds } from '../../src/record/round-part.ts';
import { pieceKinds } from '../../src/record/wood-part.ts';
import type { Tap } from '../../src/signal/tap.ts';

const id = fc.stringMatching(/^[A-Za-z0-9_-]{1,12}$/);
const text = fc.oneof(
  fc.string({ maxLength: 30 }),
  fc.string({ unit: 'grapheme', maxLength: 20 }),
  fc.constantFrom('', '<script>alert(1)</script>', '=1+1', '"quoted", with\r\nbreaks', '    -1', '__proto__'),
);
// JSON has no negative zero of its own; -0 would come back as 0.
const finite = fc.double({ noNaN: true, noDefaultInfinity: true }).map((x) => (x === 0 ? 0 : x));
const positive = fc.double({ min: 1e-3, max: 1e6, noNaN: true });
const atLeastZero = fc.double({ min: 0, max: 1e6, noNaN: true });
const natural = fc.nat(9);
const atIso = fc
  .date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true })
  .map((date) => date.toISOString());

/** Reading takes out the keys by which an object could pass for another's prototype; a valid record has none. */
const withoutPrototypeKeys = (key: string, value: unknown): unknown =>
  ['__proto__', 'constructor', 'prototype'].includes(key) ? undefined : value;

/** Fields a later version might have, their names unknown to this one. */
const unknownFields = fc.dictionary(
  fc.constantFrom('xGlue', 'xToString', 'toString', 'valueOf', 'xNested'),
  fc.jsonValue({ maxDepth: 2 }).map((value) => JSON.parse(JSON.stringify(value, withoutPrototypeKeys)) as unknown),
  { maxKeys: 2 },
);

/** An object with the given required and optional fields and now and then some that are unknown. */
function loose<R extends Record<string, fc.Arbitrary<unknown>>, O extends Record<string, fc.Arbitrary<unknown>>>(
  required: R,
  optional?: O,
): fc.Arbitrary<Record<string, unknown>> {
  const known = fc.record({ ...required, ...optional }, { requiredKeys: Object.keys(required) });
  return fc
    .tuple(known, fc.option(unknownFields, { freq: 4, nil: {} }))
    .map(([fields, extra]) => ({ ...fields, ...extra }));
}

const byId = (element: fc.Arbitrary<Record<string, unknown>>, maxLength: number) =>
  fc.uniqueArray(element, { selector: (value) => value['id'], maxLength });

const estimate = (value: fc.Arbitrary<number>) => loose({ value, sigma: atLeastZero });
const mode = loose({
  frequencyHz: estimate(positive),
  q: estimate(positive),
  levelDb: finite,
  amplitudes: fc.array(finite, { maxLength: 3 }),
  resolution: fc.constantFrom('single', 'pair'),
});
const place = loose({ hold: natural, tap: natural });
const fit = loose({
  method: text,
  modes: fc.array(mode, { maxLength: 3 }),
  used: fc.array(place, { maxLength: 2 }),
  setAside: fc.array(place, { maxLength: 2 }),
  scatterKnown: fc.boolean(),
});
const tap = loose({
  id,
  atIso,
  sampleRateHz: fc.constantFrom(8000, 44_100, 48_000, 192_000),
  aboveRoomDb: finite,
  hold: natural,
});
const round = loose(
  {
    id,
    atIso,
    support: loose({
      hold: fc.constantFrom(...holds),
      bridge: fc.constantFrom(...bridges),
      strung: fc.boolean(),
    }),
    spot: text,
    source: text,
    state: fc.constantFrom('open', 'closed', 'set-aside'),
    taps: byId(tap, 3),
  },
  { fit, wanted: fc.constantFrom(...tapKinds) },
);
const profile = fc.array(loose({ atMm: finite, heightMm: finite }), { maxLength: 3 });
const cut = loose(
  { id, brace: text, braceIds: fc.array(id, { maxLength: 2 }) },
  {
    fromMm: finite,
    toMm: finite,
    offMm: atLeastZero,
    heights: profile,
    drawn: fc.array(loose({ braceId: id, profile }), { maxLength: 2 }),
    weighedG: atLeastZero,
    heightLeftMm: atLeastZero,
  },
);
const climate = loose(
  {},
  {
    humidityPercent: fc.double({ min: 0, max: 100, noNaN: true }),
    tempC: fc.integer({ min: -40, max: 80 }),
    hygrometer: text,
    hygrometerOffsetPercent: finite,
  },
);
const step = loose(
  {
    id,
    atIso,
    stage: fc.constantFrom(...stages),
    done: text,
    cuts: byId(cut, 2),
    climate,
    heard: text,
    rounds: byId(round, 3),
  },
  {
    massG: positive,
    gluing: climate,
    photoId: id,
    trust: loose({ recordId: id, stepId: id, verdict: fc.constantFrom('go', 'look-again', 'too-few') }),
  },
);
const amount = estimate(positive);
const piece = loose(
  {
    id,
    kind: fc.constantFrom(...pieceKinds),
    name: text,
    species: text,
    climate,
    notes: text,
    rounds: byId(round, 2),
    modes: byId(
      loose({ id: fc.constantFrom(...tapKinds), frequencyHz: amount }, { q: amount }) as fc.Arbitrary<
        Record<string, unknown>
      >,
      3,
    ),
    caliper: byId(loose({ id, xMm: finite, yMm: finite, thicknessMm: positive }), 2),
    deflections: byId(
      loose({ id: fc.constantFrom('along', 'across') }, { spanMm: amount, loadG: amount, deflectionMm: amount }),
      2,
    ),
  },
  {
    lengthMm: amount,
    widthMm: amount,
    thicknessMm: amount,
    massG: amount,
    finishedMm: amount,
    moisturePercent: atLeastZero,
    photoId: id,
    reading: loose(
      { method: text, atIso },
      { densityKgM3: amount, eLongGpa: amount, eCrossGpa: amount, gGpa: amount, qLong: amount, qCross: amount },
    ),
  },
);
const stage = fc.constantFrom(...stages);

/** Instrument records, valid by construction. */
export const arbitraryRecord: fc.Arbitrary<InstrumentRecord> = loose(
  {
    schema: fc.constant(recordFormat),
    id,
    kind: fc.constantFrom('instrument', 'reference-stick', 'stock'),
    name: text,
    model: text,
    hand: fc.constantFrom('right', 'left'),
    createdAtIso: atIso,
    archived: fc.boolean(),
    notes: text,
    steps: byId(step, 3),
    targets: byId(loose({ id, mode: text, stage, frequencyHz: positive, toleranceHz: positive, origin: text }), 2),
    pins: byId(loose({ id, stepId: id, mode: text, frequencyHz: positive }), 2),
    floors: byId(loose({ id, brace: text, heightMm: positive }), 2),
  },
  { deletedAtIso: atIso, pieces: byId(piece, 2) },
) as fc.Arbitrary<unknown> as fc.Arbitrary<InstrumentRecord>;

const sound: fc.Arbitrary<Omit<Tap, 'sampleRateHz'>> = fc
  .tuple(fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: 100, maxLength: 140 }), fc.nat(139))
  .map(([samples, onset]) => ({
    samples: Float32Array.from(samples),
    onsetIndex: onset % samples.length,
  }));

/** A record with a sound for every tap and bytes for every photograph. */
export const arbitraryBundle: fc.Arbitrary<Bundle> = arbitraryRecord.chain((record) => {
  const taps = [...new Set(tapIds(record))];
  const photos = [...new Set(photoIds(record))];
  // The last note of an id counts where two taps have one.
  const rates = new Map(
    [...record.steps, ...(record.pieces ?? [])].flatMap(({ rounds }) =>
      rounds.flatMap((round) => round.taps.map((tap) => [tap.id, tap.sampleRateHz] as const)),
    ),
  );
  return fc
    .tuple(
      fc.array(sound, { minLength: taps.length, maxLength: taps.length }),
      fc.array(fc.uint8Array({ maxLength: 30 }), { minLength: photos.length, maxLength: photos.length }),
    )
    .map(([sounds, pictures]) => ({
      record,
      taps: new Map(taps.map((tapId, i) => [tapId, { ...sounds[i]!, sampleRateHz: rates.get(tapId)! }])),
      photos: new Map(photos.map((photoId, i) => [photoId, pictures[i]!])),
    }));
});
