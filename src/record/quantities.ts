// What is typed into the record and beside it, each once: its unit, the least and most that a field takes, the decimals it
// shows, and how a length reads in inches; what each is called stands under the same name in `views/words/en/quantities.ts`.
// The limits are what no workshop goes beyond, so that a slip of the finger or a stuck key stops at the field. Common
// practice, no source.
import type { InchReading } from '../quantity/lengths.ts';

/** Measures that the maker reads in units of the own choice. */
type TurnedMeasure = 'mm' | 'g' | 'c';

/** Units that have no other way to be shown; `count` is a whole number, `plain` one without a unit. */
export type FixedMeasure =
  | 'percent'
  | 'hz'
  | 'db'
  | 'degrees'
  | 'cents'
  | 'years'
  | 'm'
  | 'litres'
  | 'hpa'
  | 'gPerM'
  | 'gpa'
  | 'kgM3'
  | 'cm2'
  | 'n'
  | 's'
  | 'count'
  | 'plain';

export type Measure = TurnedMeasure | FixedMeasure;

export interface Quantity {
  readonly measure: Measure;
  readonly least: number;
  readonly most: number;
  /** at most so many in a field, of the unit of the record */
  readonly decimals: number;
  /** of lengths */
  readonly inches: InchReading;
}

const of = (measure: Exclude<Measure, 'mm'>, least: number, most: number): Quantity => ({
  measure,
  least,
  most,
  decimals: measure === 'count' ? 0 : 4,
  inches: 'rule',
});

/** A length off a rule, mm. */
const ruled = (least: number, most: number, decimals = 2): Quantity => ({
  measure: 'mm',
  least,
  most,
  decimals,
  inches: 'rule',
});

/** A length that a caliper, a feeler or a dial gauge tells, mm; in thousandths of an inch, or finer. */
const calipered = (least: number, most: number, inches: InchReading = 3): Quantity => ({
  measure: 'mm',
  least,
  most,
  decimals: 3,
  inches,
});

export const quantities = {
  // air and weather
  airTemperature: of('c', -20, 60),
  gluingTemperature: of('c', 0, 45),
  humidity: of('percent', 0, 100),
  gluingFrom: of('percent', 5, 95),
  gluingTo: of('percent', 5, 95),
  hygrometer: of('percent', 1, 100),
  hygrometerOffset: of('percent', -30, 30),
  hygrometerDoubt: of('percent', 0, 29),
  pressure: of('hpa', 600, 1100),
  moistureDifference: of('percent', -10, 10),
  // wood and boards
  pieceMass: of('g', 0.1, 20_000),
  boardLength: ruled(20, 2500),
  boardWidth: ruled(3, 800),
  boardMass: of('g', 0.5, 20_000),
  boardThickness: calipered(0.5, 80),
  /** at one place of a board: a thin spot is worth knowing */
  thicknessAt: calipered(0.3, 80),
  finishedThickness: calipered(0.5, 20),
  uneven: calipered(0, 20, 4),
  density: of('kgM3', 100, 1300),
  modulusAlong: of('gpa', 1, 40),
  modulusAcross: of('gpa', 0.05, 10),
  shearModulus: of('gpa', 0.05, 10),
  woodConstant: of('plain', 0, 5000),
  boardModeHz: of('hz', 5, 20_000),
  patchLength: ruled(50, 900),
  patchWidth: ruled(50, 900),
  plateArea: of('cm2', 10, 5000),
  sanding: calipered(0, 3, 4),
  span: ruled(20, 2000),
  testLoad: of('g', 1, 20_000),
  deflection: calipered(0.01, 50, 4),
  // the top
  plateThickness: calipered(0.5, 12),
  topThickness: calipered(1, 8),
  outlineLength: ruled(10, 1000),
  outlineLower: ruled(10, 1000),
  outlineWaist: ruled(10, 1000),
  outlineUpper: ruled(10, 1000),
  outlineLowerAt: ruled(10, 1000),
  outlineWaistAt: ruled(10, 1000),
  outlineUpperAt: ruled(10, 1000),
  markFromTail: ruled(-1000, 1000, 1),
  markOffCentre: ruled(-1000, 1000, 1),
  holeFromTail: ruled(-1000, 1000, 1),
  firstEndFromTail: ruled(-1000, 1000, 1),
  firstEndOffCentre: ruled(-1000, 1000, 1),
  secondEndFromTail: ruled(-1000, 1000, 1),
  secondEndOffCentre: ruled(-1000, 1000, 1),
  drawnHoleRadius: ruled(0, 120),
  liningWidth: ruled(0, 30),
  rimStiffness: of('plain', 0, 20_000),
  slabAlong: ruled(0, 120),
  slabAcross: ruled(0, 300),
  slabThickness: calipered(0, 20),
  // braces and cuts
  braceWidth: ruled(0, 60),
  braceHeight: calipered(0, 60),
  floorHeight: calipered(0, 60),
  heightLeft: calipered(0, 60),
  wholeBraceHeight: calipered(0.5, 60),
  /** of a brace whose stiffness is reckoned with */
  wholeBraceWidth: ruled(0.5, 60),
  placeAlongBrace: ruled(0, 2000, 1),
  stretchFrom: ruled(0, 2000, 1),
  stretchTo: ruled(0, 2000, 1),
  grainAngle: of('degrees', -45, 45),
  cutDepth: calipered(0, 20),
  shavings: of('g', 0, 1000),
  plateModulus: of('gpa', 0.05, 40),
  stripWidth: ruled(0.5, 500),
  domeSpan: ruled(0.5, 600),
  // strings and bridge
  /** scales are spoken of in decimals: 25.4 in, 24.9 in */
  scale: calipered(300, 1000),
  fretsToBody: of('count', 8, 20),
  setbackTreble: calipered(0, 15),
  setbackBass: calipered(0, 15),
  stringSpread: ruled(20, 120),
  firstAction: calipered(0.5, 8),
  lastAction: calipered(0.5, 8),
  stringAge: of('years', 0, 400),
  stringDiameter: calipered(0.1, 3, 4),
  coreDiameter: calipered(0.1, 3, 4),
  unitMass: of('gPerM', 0.05, 40),
  saddleHeight: ruled(3, 40),
  breakAngle: of('degrees', 0, 80),
  neckAngle: of('degrees', -10, 10),
  bridgeTurn: of('degrees', -10, 20),
  bridgeSlack: of('degrees', -20, 20),
  bridgeTuned: of('degrees', -20, 20),
  belly: ruled(0, 30),
  bridgeLoad: of('g', 100, 10_000),
  bridgeDown: calipered(0.01, 10, 4),
  topRise: calipered(-20, 20),
  // the box
  bodyLength: ruled(200, 800),
  lowerBout: ruled(80, 600),
  waist: ruled(80, 600),
  upperBout: ruled(80, 600),
  tailDepth: ruled(20, 250),
  neckDepth: ruled(20, 250),
  topDomeRadius: of('m', 1, 100),
  backDomeRadius: of('m', 1, 100),
  occupiedVolume: of('litres', 0, 10),
  airVolume: of('litres', 1, 60),
  volumeDoubt: of('percent', 0.2, 30),
  holeRadius: ruled(5, 100),
  holeEdge: calipered(0, 15),
  lump: of('g', 0.5, 200),
  earDistance: ruled(20, 5000),
  // targets and notes
  wantedHz: of('hz', 5, 20_000),
  toleranceHz: of('hz', 0.01, 1000),
  wantedBoxHz: of('hz', 20, 600),
  boxToleranceHz: of('hz', 0.1, 100),
  a4: of('hz', 380, 480),
  warningCents: of('cents', 0, 50),
  fretsLookedAt: of('count', 0, 30),
  // listening and tools
  tapsPerHold: of('count', 1, 40),
  holdsPerRound: of('count', 1, 10),
  holdPauseS: of('s', 2, 60),
  loudEnough: of('db', 6, 40),
  loudest: of('db', -20, 0),
  rulerDoubt: calipered(0.001, 20, 4),
  caliperDoubt: calipered(0.001, 5, 4),
  scaleDoubt: of('g', 0.001, 100),
} as const satisfies Readonly<Record<string, Quantity>>;

export type QuantityName = keyof typeof quantities;
