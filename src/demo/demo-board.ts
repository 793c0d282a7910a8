// The wood of the demo: the two halves its top was joined from, one tapped in sound and one with its modes typed, and two
// brace sticks. Everything is made up; tests/demo/demo-board.test.ts holds the modes to the truth below.
import type { Piece, Round } from '../record/record.ts';
import type { DemoRound } from './demo-steps.ts';
import type { PieceMode } from './tap-synth.ts';

/** Truth of the half that is tapped. */
export const demoHalfTruth = { eLongGpa: 12.4, eCrossGpa: 0.87, gGpa: 0.77, densityKgM3: 418 } as const;
/** Truth of the half whose modes the maker typed. */
export const demoOtherHalfTruth = { eLongGpa: 12.7, eCrossGpa: 0.82, gGpa: 0.76, densityKgM3: 424 } as const;
/** Both halves are cut to the same size, mm. */
export const demoHalfSize = { lengthMm: 530, widthMm: 205, thicknessMm: 4.1 } as const;

type TapKind = NonNullable<Round['wanted']>;
const kinds = ['long-grain-bending', 'cross-grain-bending', 'twist'] as const satisfies readonly TapKind[];

/** Free modes of the tapped half below 300 Hz, from its truth. */
export const demoHalfModes: readonly { readonly wanted?: TapKind; readonly frequencyHz: number; readonly q: number }[] =
  [
    { wanted: 'twist', frequencyHz: 53.37, q: 62 },
    { wanted: 'long-grain-bending', frequencyHz: 81.64, q: 115 },
    { frequencyHz: 134.63, q: 74 },
    { wanted: 'cross-grain-bending', frequencyHz: 144.37, q: 56 },
    { frequencyHz: 178.48, q: 60 },
    { frequencyHz: 225.83, q: 108 },
    { frequencyHz: 270.9, q: 70 },
  ];

/** A hold on the node lines of the wanted mode lets it ring and leaves a twentieth of the others. */
const modesFor = (kind: TapKind): readonly PieceMode[] =>
  demoHalfModes.map(({ wanted, ...mode }) => ({ ...mode, level: wanted === kind ? 0.16 : 0.008 }));

/** One round a mode, as the Wood view guides it. */
export const demoBoardRounds: readonly DemoRound[] = kinds.map((kind, i) => ({
  file: `board-${kind}`,
  seed: 300 + i,
  spot: 'free piece',
  wanted: kind,
  modes: modesFor(kind),
  holds: 2,
  tapsPerHold: 2,
  holdScatter: 0.0005,
  tapScatter: 0.00005,
}));

/** As a ruler, a caliper or an ear is trusted: the half width of the 95 % interval. */
const within = (value: number, halfWidth: number) => ({ value, sigma: halfWidth / 1.96 });
const air = { humidityPercent: 46, tempC: 19.5, hygrometer: 'wall', hygrometerOffsetPercent: -3 };
const bare = { climate: air, rounds: [], caliper: [], deflections: [], notes: '' };
const halfSizes = {
  shape: 'rectangle' as const,
  unevenMm: 0.05,
  lengthMm: within(530.2, 0.6),
  widthMm: within(204.9, 0.6),
  thicknessMm: within(4.1, 0.06),
};

/** What was kept of the demo's pieces, by their ids. */
export type DemoReadings = Readonly<Record<string, NonNullable<Piece['reading']>>>;

/**
 * The wood that belongs to the demo's top.
 * @param rounds   its rounds as they were heard, in the order of demoBoardRounds
 * @param readings what pieces were read as; a piece without one is still to be read
 */
export function demoPieces(rounds: readonly Round[], readings: DemoReadings = {}): readonly Piece[] {
  return unreadPieces(rounds).map((piece) => {
    const reading = readings[piece.id];
    return reading === undefined ? piece : { ...piece, reading };
  });
}

function unreadPieces(rounds: readonly Round[]): readonly Piece[] {
  const spruce = { species: 'sitka-spruce' };
  return [
    {
      ...bare,
      ...spruce,
      ...halfSizes,
      id: 'demo-half-bass',
      kind: 'top',
      name: 'Top, bass half',
      massG: within(186.1, 0.4),
      rounds: [...rounds],
      modes: [],
    },
    {
      ...bare,
      ...spruce,
      ...halfSizes,
      id: 'demo-half-treble',
      kind: 'top',
      name: 'Top, treble half',
      massG: within(188.8, 0.4),
      notes: 'Tapped before this record began; the three modes were typed.',
      modes: [
        { id: 'long-grain-bending', frequencyHz: within(82.03, 0.2), q: within(112, 12) },
        { id: 'cross-grain-bending', frequencyHz: within(139.2, 0.4), q: within(55, 8) },
        { id: 'twist', frequencyHz: within(52.67, 0.2), q: within(60, 10) },
      ],
    },
    ...(
      [
        ['Brace stick, straight split', 46.4, 268.1],
        ['Brace stick, second billet', 48.9, 252],
      ] as const
    ).map(
      ([name, massG, frequencyHz], i): Piece => ({
        ...bare,
        ...spruce,
        id: `demo-stick-${i + 1}`,
        kind: 'brace-stock',
        name,
        lengthMm: within(520, 0.6),
        widthMm: within(16, 0.06),
        thicknessMm: within(13, 0.06),
        massG: within(massG, 0.2),
        modes: [{ id: 'long-grain-bending', frequencyHz: within(frequencyHz, 0.6), q: within(125, 16) }],
      }),
    ),
  ];
}
