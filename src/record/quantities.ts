// What is typed into the record and beside it, each once: its unit, and the least and most that a field takes. The limits
// are what no workshop goes beyond, so that a slip of the finger or a stuck key stops at the field. Common practice, no
// source.

/** Measures that the maker reads in units of the own choice. */
export type TurnedMeasure = 'mm' | 'g' | 'c';

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
}

const of = (measure: Measure, least: number, most: number): Quantity => ({ measure, least, most });

export const quantities = {
  // air and weather
  airTemperature: of('c', -20, 60),
  gluingTemperature: of('c', 0, 45),
  humidity: of('percent', 0, 100),
  gluingHumidity: of('percent', 5, 95),
  hygrometer: of('percent', 1, 100),
  hygrometerOffset: of('percent', -30, 30),
  hygrometerDoubt: of('percent', 0, 29),
  pressure: of('hpa', 600, 1100),
  moistureDifference: of('percent', -10, 10),
  // wood and boards
  pieceMass: of('g', 0.1, 20_000),
  boardLength: of('mm', 20, 2500),
  boardWidth: of('mm', 3, 800),
  boardMass: of('g', 0.5, 20_000),
  boardThickness: of('mm', 0.5, 80),
  /** at one place of a board: a thin spot is worth knowing */
  thicknessAt: of('mm', 0.3, 80),
  finishedThickness: of('mm', 0.5, 20),
  uneven: of('mm', 0, 20),
  density: of('kgM3', 100, 1300),
  modulusAlong: of('gpa', 1, 40),
  modulusAcross: of('gpa', 0.05, 10),
  shearModulus: of('gpa', 0.05, 10),
  woodConstant: of('plain', 0, 5000),
  boardModeHz: of('hz', 5, 20_000),
  patch: of('mm', 50, 900),
  plateArea: of('cm2', 10, 5000),
  sanding: of('mm', 0, 3),
  span: of('mm', 20, 2000),
  testLoad: of('g', 1, 20_000),
  deflection: of('mm', 0.01, 50),
  // the top
  plateThickness: of('mm', 0.5, 12),
  topThickness: of('mm', 1, 8),
  outlineSize: of('mm', 10, 1000),
  placeOnTop: of('mm', -1000, 1000),
  drawnHoleRadius: of('mm', 0, 120),
  liningWidth: of('mm', 0, 30),
  rimStiffness: of('plain', 0, 20_000),
  slabAlong: of('mm', 0, 120),
  slabAcross: of('mm', 0, 300),
  slabThickness: of('mm', 0, 20),
  // braces and cuts
  braceWidth: of('mm', 0, 60),
  braceHeight: of('mm', 0, 60),
  wholeBraceHeight: of('mm', 0.5, 60),
  /** of a brace whose stiffness is reckoned with */
  wholeBraceWidth: of('mm', 0.5, 60),
  placeAlongBrace: of('mm', 0, 2000),
  grainAngle: of('degrees', -45, 45),
  cutDepth: of('mm', 0, 20),
  shavings: of('g', 0, 1000),
  plateModulus: of('gpa', 0.05, 40),
  stripWidth: of('mm', 0.5, 500),
  domeSpan: of('mm', 0.5, 600),
  // strings and bridge
  scale: of('mm', 300, 1000),
  fretsToBody: of('count', 8, 20),
  setback: of('mm', 0, 15),
  stringSpread: of('mm', 20, 120),
  stringAction: of('mm', 0.5, 8),
  stringAge: of('years', 0, 400),
  stringDiameter: of('mm', 0.1, 3),
  unitMass: of('gPerM', 0.05, 40),
  saddleHeight: of('mm', 3, 40),
  breakAngle: of('degrees', 0, 80),
  neckAngle: of('degrees', -10, 10),
  bridgeTurn: of('degrees', -10, 20),
  topRise: of('mm', -20, 20),
  // the box
  bodyLength: of('mm', 200, 800),
  bodyWidth: of('mm', 80, 600),
  bodyDepth: of('mm', 20, 250),
  domeRadius: of('m', 1, 100),
  occupiedVolume: of('litres', 0, 10),
  airVolume: of('litres', 1, 60),
  volumeDoubt: of('percent', 0.2, 30),
  holeRadius: of('mm', 5, 100),
  holeEdge: of('mm', 0, 15),
  lump: of('g', 0.5, 200),
  earDistance: of('mm', 20, 5000),
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
  rulerDoubt: of('mm', 0.001, 20),
  caliperDoubt: of('mm', 0.001, 5),
  scaleDoubt: of('g', 0.001, 100),
} as const satisfies Readonly<Record<string, Quantity>>;

export type QuantityName = keyof typeof quantities;
