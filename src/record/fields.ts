// The kinds of field that every part of the record is made of.
import * as v from 'valibot';

export const finite = v.pipe(v.number(), v.finite());
export const positive = v.pipe(finite, v.gtValue(0));
export const atLeastZero = v.pipe(finite, v.minValue(0));
/** Characters of a name or another text of one line. */
export const longestLine = 500;
export const line = v.pipe(v.string(), v.maxLength(longestLine));
export const prose = v.pipe(v.string(), v.maxLength(20_000));
export const id = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/));
export const instant = v.pipe(v.string(), v.isoTimestamp());

/** The air at a measurement. */
export const climateSchema = v.looseObject({
  /** true relative humidity: the hygrometer's reading with its offset applied */
  humidityPercent: v.optional(v.pipe(finite, v.minValue(0), v.maxValue(100))),
  tempC: v.optional(v.pipe(finite, v.minValue(-40), v.maxValue(80))),
  hygrometer: v.optional(line),
  /** what was added to the reading to get the true humidity */
  hygrometerOffsetPercent: v.optional(finite),
});
