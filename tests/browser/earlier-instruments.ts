// Earlier instruments of the shelf, with named modes braced and closed, as if they had been read from taps.
import type { InstrumentRecord, Round, Step } from '../../src/record/record.ts';
import { newRecord } from '../../src/record/record.ts';

function stepWith(
  id: string,
  stage: Step['stage'],
  round: Omit<Round, 'id' | 'atIso' | 'fit'>,
  modesHz: readonly number[],
): Step {
  const atIso = `2026-0${stage === 'braced' ? 3 : 5}-01T08:00:00.000Z`;
  return {
    id,
    atIso,
    stage,
    done: '',
    cuts: [],
    climate: {},
    heard: '',
    rounds: [
      {
        ...round,
        id: `${id}-round`,
        atIso,
        fit: {
          method: 'test',
          modes: modesHz.map((value) => ({
            frequencyHz: { value, sigma: 0.1 },
            q: { value: 40, sigma: 1 },
            levelDb: -20,
            amplitudes: [],
            resolution: 'single' as const,
          })),
          used: [],
          setAside: [],
          scatterKnown: true,
        },
      },
    ],
  };
}

/** An instrument whose monopole lay at one frequency when braced, and whose top lies at another in the closed box. */
export function earlierInstrument(name: string, bracedHz: number, topHz: number | undefined): InstrumentRecord {
  const taken = { spot: 'bridge-centre', source: 'test', state: 'closed', taps: [] } as const;
  const id = name.toLowerCase();
  const pin = (stepId: string, mode: string, frequencyHz: number) => ({
    id: `${id}-${mode}`,
    stepId,
    mode,
    frequencyHz,
  });
  return {
    ...newRecord({ id, createdAtIso: '2026-01-01T08:00:00.000Z', name }),
    steps: [
      stepWith(`${id}-braced`, 'braced', { ...taken, support: { hold: 'in-mould', bridge: 'taped', strung: false } }, [
        bracedHz,
        260,
      ]),
      ...(topHz === undefined
        ? []
        : [
            stepWith(
              `${id}-closed`,
              'closed',
              { ...taken, support: { hold: 'box-open', bridge: 'glued', strung: false } },
              [110, topHz],
            ),
          ]),
    ],
    pins: [
      pin(`${id}-braced`, 'monopole', bracedHz),
      ...(topHz === undefined ? [] : [pin(`${id}-closed`, 'air', 110), pin(`${id}-closed`, 'top', topHz)]),
    ],
  };
}
