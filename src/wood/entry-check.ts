// When the numbers describe no wood: which entry is most likely wrong. Each usual slip is undone in turn, and the one
// that gives the most ordinary board is named.
import type { ElasticStart } from './elastic-start.ts';
import type { TapKind } from './hold-guide.ts';
import { boardOf, type MeasuredBoard } from './measured-board.ts';
import { simpleModuli } from './simple-formula.ts';

/** What a maker types in. */
export type Entry = 'length' | 'width' | 'thickness' | 'mass' | TapKind;

/** How an entry may have gone wrong. */
type Slip =
  /** typed in inches or ounces where mm or g were asked, or the reverse */
  | 'other-units'
  /** the decimal point one place off */
  | 'tenfold'
  /** the peak an octave off was taken */
  | 'octave'
  /** exchanged with the entry named in `with` */
  | 'exchanged'
  /** no usual slip explains it; this entry is farthest from what wood can be */
  | 'unexplained';

/** One explanation, most likely first. */
export interface EntrySuspect {
  readonly entry: Entry;
  readonly slip: Slip;
  readonly with?: Entry;
  /** what the entry would have been, in its own unit; absent for 'exchanged' and 'unexplained' */
  readonly likelyValue?: number;
  readonly describes: 'density' | 'e-long' | 'e-cross' | 'shear';
}

type Entries = Readonly<Record<Entry, number>>;

/**
 * What no wood goes beyond: density kg/m^3, moduli GPa, and E across over E along.
 * Source: lightest and heaviest commercial woods, about 100 to 1300 kg/m^3, and E_L 2 to 30 GPa (FPL-GTR-282 chapter 5,
 * from memory); E_R and G bounds from the ratios of Table 5-1 widened threefold.
 */
export const WOOD_LIMITS: Readonly<Record<EntrySuspect['describes'], readonly [number, number]>> = {
  density: [100, 1300],
  'e-long': [2, 30],
  'e-cross': [0.08, 6],
  shear: [0.08, 5],
};
const CROSS_OVER_LONG = [0.01, 0.6] as const;

function describe(entries: Entries): Readonly<Record<EntrySuspect['describes'], number>> {
  const exact = (value: number) => ({ value, sigma: 0 });
  const { size, densityKgM3 } = boardOf({
    lengthMm: exact(entries.length),
    widthMm: exact(entries.width),
    thicknessMm: exact(entries.thickness),
    massG: exact(entries.mass),
  });
  const moduli = simpleModuli(size, densityKgM3, [
    entries['long-grain-bending'],
    entries['cross-grain-bending'],
    entries.twist,
  ]);
  return {
    density: densityKgM3,
    'e-long': moduli.eLongPa / 1e9,
    'e-cross': moduli.eCrossPa / 1e9,
    shear: moduli.gPa / 1e9,
  };
}

function firstImpossible(entries: Entries): EntrySuspect['describes'] | undefined {
  const board = describe(entries);
  for (const [name, [low, high]] of Object.entries(WOOD_LIMITS) as [
    EntrySuspect['describes'],
    readonly [number, number],
  ][]) {
    if (!(board[name] >= low && board[name] <= high)) return name;
  }
  const ratio = board['e-cross'] / board['e-long'];
  return ratio >= CROSS_OVER_LONG[0] && ratio <= CROSS_OVER_LONG[1] ? undefined : 'e-cross';
}

/** Distance from the expected wood in handbook spreads, squared. */
function strangeness(entries: Entries, start: ElasticStart): number {
  const board = describe(entries);
  const far = (value: number, expected: { value: number; sigma: number }) =>
    (Math.log(value / expected.value) / (expected.sigma / expected.value)) ** 2;
  const gpa = ({ value, sigma }: { value: number; sigma: number }) => ({ value: value / 1e9, sigma: sigma / 1e9 });
  return (
    far(board.density, start.densityKgM3) +
    far(board['e-long'], gpa(start.eLongPa)) +
    far(board['e-cross'], gpa(start.eCrossPa)) +
    far(board.shear, gpa(start.gPa))
  );
}

const UNIT_FACTOR: Readonly<Partial<Record<Entry, number>>> = {
  length: 25.4,
  width: 25.4,
  thickness: 25.4,
  mass: 28.349523125,
};
const TAPS: readonly Entry[] = ['long-grain-bending', 'cross-grain-bending', 'twist'];
const TAP_EXCHANGES: readonly (readonly [TapKind, TapKind])[] = [
  ['long-grain-bending', 'cross-grain-bending'],
  ['long-grain-bending', 'twist'],
  ['cross-grain-bending', 'twist'],
];
const EXCHANGES: readonly (readonly [Entry, Entry])[] = [...TAP_EXCHANGES, ['length', 'width'], ['width', 'thickness']];

function slips(entries: Entries): { suspect: Omit<EntrySuspect, 'describes'>; repaired: Entries }[] {
  const scaled = (entry: Entry, factor: number, slip: Slip) => {
    const likelyValue = entries[entry] * factor;
    return { suspect: { entry, slip, likelyValue }, repaired: { ...entries, [entry]: likelyValue } };
  };
  const sizes = Object.entries(UNIT_FACTOR) as [Entry, number][];
  return [
    ...sizes.flatMap(([entry, factor]) => [
      scaled(entry, factor, 'other-units'),
      scaled(entry, 1 / factor, 'other-units'),
      scaled(entry, 10, 'tenfold'),
      scaled(entry, 0.1, 'tenfold'),
    ]),
    ...TAPS.flatMap((entry) => [
      scaled(entry, 2, 'octave'),
      scaled(entry, 0.5, 'octave'),
      scaled(entry, 10, 'tenfold'),
      scaled(entry, 0.1, 'tenfold'),
    ]),
    ...EXCHANGES.map(([entry, other]) => ({
      suspect: { entry, slip: 'exchanged' as const, with: other },
      repaired: { ...entries, [entry]: entries[other], [other]: entries[entry] },
    })),
  ];
}

/** Entry that weighs most in each property, for when no slip explains it: thickness enters squared, length to the 4th. */
const HEAVIEST: Readonly<Record<EntrySuspect['describes'], Entry>> = {
  density: 'thickness',
  'e-long': 'long-grain-bending',
  'e-cross': 'cross-grain-bending',
  shear: 'twist',
};

const entriesOf = (board: MeasuredBoard, tapsHz: Readonly<Record<TapKind, number>>): Entries => ({
  length: board.lengthMm.value,
  width: board.widthMm.value,
  thickness: board.thicknessMm.value,
  mass: board.massG.value,
  ...tapsHz,
});

/** Two taps that look exchanged though the wood they give may exist. */
export interface TapExchange {
  readonly first: TapKind;
  readonly second: TapKind;
}

/** An exchange is named where it makes the board this much more ordinary, in squared handbook spreads. Source: ours. */
const FAR_MORE_ORDINARY = 6;

/**
 * The exchange of two taps that would make a possible wood a far more ordinary one, or undefined.
 * @param start what the wood should be, from its species or the family
 * Source: our derivation, as entrySuspects; 6 squared spreads are odds of 20 to 1 between the two readings.
 */
export function likelyExchange(
  board: MeasuredBoard,
  tapsHz: Readonly<Record<TapKind, number>>,
  start: ElasticStart,
): TapExchange | undefined {
  const asTyped = strangeness(entriesOf(board, tapsHz), start);
  const exchanges = TAP_EXCHANGES.map(([first, second]) => {
    const repaired = entriesOf(board, { ...tapsHz, [first]: tapsHz[second], [second]: tapsHz[first] });
    return { first, second, far: firstImpossible(repaired) === undefined ? strangeness(repaired, start) : Infinity };
  });
  const best = exchanges.reduce((a, b) => (b.far < a.far ? b : a));
  return asTyped - best.far > FAR_MORE_ORDINARY ? { first: best.first, second: best.second } : undefined;
}

/**
 * Which entry is most likely wrong, if the numbers describe no wood.
 * @param board  ruler, caliper, scale
 * @param tapsHz the three modes, Hz
 * @param start  what the wood should be, from its species or the family
 * @returns empty where a wood like this may exist; otherwise explanations, most likely first
 * Source: our derivation: the slip whose undoing gives the smallest distance from the handbook's spread.
 */
export function entrySuspects(
  board: MeasuredBoard,
  tapsHz: Readonly<Record<TapKind, number>>,
  start: ElasticStart,
): readonly EntrySuspect[] {
  const entries = entriesOf(board, tapsHz);
  const nonPositive = (Object.keys(entries) as Entry[]).find((entry) => !(entries[entry] > 0));
  if (nonPositive !== undefined) return [{ entry: nonPositive, slip: 'unexplained', describes: 'density' }];
  const describes = firstImpossible(entries);
  if (describes === undefined) return [];
  const explained = slips(entries)
    .filter(({ repaired }) => firstImpossible(repaired) === undefined)
    .map(({ suspect, repaired }) => ({ suspect, far: strangeness(repaired, start) }))
    .sort((p, q) => p.far - q.far)
    .map(({ suspect }) => ({ ...suspect, describes }));
  return explained.length > 0 ? explained : [{ entry: HEAVIEST[describes], slip: 'unexplained', describes }];
}
