// Records for tests, with modes as if they had been read from taps.
import { type InstrumentRecord, newRecord, type Round, type Step, type Support } from '../../src/record/record.ts';

export const inMould: Support = { hold: 'in-mould', bridge: 'taped', strung: false };

export interface Chapter {
  readonly modesHz: readonly number[];
  readonly sigmaHz?: number;
  readonly massOffG?: number;
  readonly humidityPercent?: number;
  readonly stage?: Step['stage'];
  readonly support?: Support;
  readonly spot?: string;
}

function roundOf(chapter: Chapter, id: string): Round {
  const sigma = chapter.sigmaHz ?? 0.1;
  return {
    id,
    atIso: '2026-11-25T08:00:00.000Z',
    support: chapter.support ?? inMould,
    spot: chapter.spot ?? 'bridge-centre',
    source: 'test',
    state: 'closed',
    taps: [],
    fit: {
      method: 'test',
      modes: chapter.modesHz.map((value) => ({
        frequencyHz: { value, sigma },
        q: { value: 40, sigma: 1 },
        levelDb: -20,
        amplitudes: [],
        resolution: 'single' as const,
      })),
      used: [],
      setAside: [],
      scatterKnown: true,
    },
  };
}

/** A record whose steps are the chapters given; the first mode of the first step is pinned as the monopole. */
export function story(chapters: readonly Chapter[]): InstrumentRecord {
  const steps = chapters.map(
    (chapter, i): Step => ({
      id: `s${i}`,
      atIso: `2026-11-25T0${i}:00:00.000Z`,
      stage: chapter.stage ?? 'braced',
      done: `cut ${i}`,
      cuts:
        chapter.massOffG === undefined
          ? []
          : [{ id: `c${i}`, brace: 'X lower legs', braceIds: [], weighedG: chapter.massOffG, offMm: chapter.massOffG }],
      climate: chapter.humidityPercent === undefined ? {} : { humidityPercent: chapter.humidityPercent, tempC: 20 },
      heard: '',
      rounds: [roundOf(chapter, `r${i}`)],
    }),
  );
  return {
    ...newRecord({ id: 'i1', createdAtIso: '2026-11-25T00:00:00.000Z', name: 'test' }),
    steps,
    pins: [{ id: 'p1', stepId: 's0', mode: 'monopole', frequencyHz: chapters[0]!.modesHz[0]! }],
  };
}
