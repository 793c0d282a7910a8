// What the maker prefers on this machine. Not part of any record.
import { promisifyRequest } from 'idb-keyval';
import * as v from 'valibot';
import { type QuantityName, quantities } from '../record/quantities.ts';
import { USUAL_TAP_LIMITS } from '../signal/hear/tap-gate.ts';
import { HYGROMETER_SIGMA } from '../wood/climate.ts';
import { USUAL_GLUING_WINDOW } from '../wood/gluing.ts';
import { Database } from './database.ts';

/** A figure within the limits of its field. */
const within = (name: QuantityName) =>
  v.pipe(v.number(), v.minValue(quantities[name].least), v.maxValue(quantities[name].most));
const whole = (name: QuantityName) => v.pipe(within(name), v.integer());

const settingsSchema = v.object({
  tapsPerHold: v.fallback(whole('tapsPerHold'), 8),
  holdsPerRound: v.fallback(whole('holdsPerRound'), 3),
  /** time to put the piece down and pick it up again, s */
  holdPauseS: v.fallback(whole('holdPauseS'), 6),
  a4Hz: v.fallback(within('a4'), 440),
  length: v.fallback(v.picklist(['mm', 'inch']), 'mm'),
  mass: v.fallback(v.picklist(['g', 'oz']), 'g'),
  temperature: v.fallback(v.picklist(['c', 'f']), 'c'),
  theme: v.fallback(v.picklist(['system', 'light', 'dark']), 'system'),
  feedback: v.fallback(v.picklist(['silent', 'tones', 'spoken']), 'silent'),
  spaceBar: v.fallback(v.boolean(), true),
  deviceId: v.fallback(v.optional(v.string()), undefined),
  /** what the browser called it, to name it where it is gone */
  deviceLabel: v.fallback(v.pipe(v.string(), v.maxLength(300)), ''),
  /** how much louder than the room a tap must be, dB */
  loudEnoughDb: v.fallback(within('loudEnough'), USUAL_TAP_LIMITS.loudEnoughDb),
  /** no sample of a tap may be louder, dB re full scale */
  loudestDb: v.fallback(within('loudest'), USUAL_TAP_LIMITS.loudestDb),
  hygrometer: v.fallback(v.pipe(v.string(), v.maxLength(200)), ''),
  hygrometerOffsetPercent: v.fallback(within('hygrometerOffset'), 0),
  /** doubt of the hygrometer after its offset, %RH, one sigma */
  hygrometerSigmaPercent: v.fallback(v.pipe(v.number(), v.minValue(0), v.maxValue(15)), HYGROMETER_SIGMA),
  /** air to glue in, %RH */
  gluingLowPercent: v.fallback(within('gluingFrom'), USUAL_GLUING_WINDOW.lowPercent),
  gluingHighPercent: v.fallback(within('gluingTo'), USUAL_GLUING_WINDOW.highPercent),
  /** how far off ruler, caliper and scale may well be, half width of the 95 % interval. Common practice, no source */
  rulerMm: v.fallback(within('rulerDoubt'), 0.5),
  caliperMm: v.fallback(within('caliperDoubt'), 0.05),
  scaleG: v.fallback(within('scaleDoubt'), 0.5),
  /** wood that sanding takes after the thicknesser, mm. Common practice, no source */
  sandingMm: v.fallback(within('sanding'), 0.15),
  /** stands at the head of a report */
  makerName: v.fallback(v.pipe(v.string(), v.maxLength(200)), ''),
  /** tag of the language the page speaks (BCP 47) */
  language: v.fallback(v.pipe(v.string(), v.maxLength(35)), 'en'),
  /** whether it was said what this is */
  isWelcomed: v.fallback(v.boolean(), false),
  openRecordId: v.fallback(v.optional(v.string()), undefined),
});

export type Settings = Readonly<v.InferOutput<typeof settingsSchema>>;

/** Settings of a machine that has none yet. */
export const defaultSettings: Settings = v.parse(settingsSchema, {});

const database = new Database('platewright-settings');

/** The stored settings; what is missing or out of range has its default. */
export async function loadSettings(): Promise<Settings> {
  const stored = await database.run('readonly', (store) => promisifyRequest<unknown>(store.get('settings')));
  const parsed = v.safeParse(settingsSchema, stored ?? {});
  return parsed.success ? parsed.output : defaultSettings;
}

export async function saveSettings(settings: Settings): Promise<void> {
  await database.run('readwrite', (store) => promisifyRequest(store.put(settings, 'settings')));
}
