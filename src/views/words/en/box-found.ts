import type { Part } from '../../../box/pistons.ts';
import type { BoxState } from '../../../compare/box-state.ts';
import { boxCodes } from './box-codes.ts';

/** What the rounds say, what a change would do, and how the box answers. */
export const boxFound = {
  found: {
    title: 'What moves',
    noRound: 'No round has been taken on this box.',
    takeFirst: 'Take the first one: the box as it is.',
    noSizes: 'Masses and areas need the air volume.',
    giveSizes: 'Give the sizes of the box first.',
    contradicted: 'These measurements contradict one another',
    nothingConcluded: 'Nothing is concluded until they agree.',
    lookAtRounds: 'Look at the rounds.',
    notMeasurable: 'Not measurable here yet',
    backStillAnswers: `In “${boxCodes.states['back-damped']}” the back still answers, so that round only tells which peak is the back’s. Pressed flat against you the back stops, and the round tells more.`,
    which: 'Which peak is which',
    denied: 'You call it otherwise. What was done to the box says it is not so; look at the names in the rounds.',
    untouched: 'No round has touched it yet.',
    parts: 'The parts by themselves',
    swapped:
      'The peak called top belongs to the back, and the other way round: the mass at the bridge moved the other one.',
    undecided:
      'Nothing tells yet which of the two upper peaks is the top’s: the round with the mass says it, unless both share both.',
    partsTable: 'Table of the parts',
    part: 'Part',
    aloneOnAir: 'Alone on the air',
    withoutAir: 'Without the air',
    effectiveMass: 'Effective mass',
    stiffness: 'Stiffness',
    area: 'Area',
    top: 'Top',
    topMissing: 'needs the round with the mass at the bridge',
    back: 'Back',
    backMissing: 'not measurable here: needs the round with the mass on the back',
    air: 'Air',
    airHow: 'in a box whose walls do not move',
    partsHint: `${boxCodes.partAlone.top}; ${boxCodes.partAlone.back.toLowerCase()}; ${boxCodes.partAlone.air.toLowerCase()}. ± is the 95 % interval.`,
    noSumRule:
      'The sum rule, which checks the names, needs the rounds with the hole open and blocked, every peak named.',
    /** @param byRuler undefined where the sizes are not known */
    sumRule: (byPeaks: string, byRuler: string | undefined, isDoubtful: boolean, isToldByLump: boolean) =>
      `Sum rule: by the peaks the air alone would be at ${byPeaks}${byRuler === undefined ? '' : `, by the ruler at ${byRuler}`}. ${
        isDoubtful
          ? 'They disagree: a peak is misnamed or left out, or the sizes are wrong.'
          : isToldByLump
            ? 'They agree, so no peak is left out, and the mass at the bridge says which is the top’s.'
            : 'They agree, so no peak is left out. Top and back exchanged would agree as well: the mass at the bridge tells.'
      }`,
    strained: (part: Part, hz: string, state: BoxState, sigmas: string) =>
      `Three pistons describe this box only roughly; every ± is widened for it. Worst is the ${boxCodes.parts[part]} peak at ${hz} in “${boxCodes.states[state]}”, off by ${sigmas} standard deviations.`,
    modes: 'What moves in each mode',
    modeOf: (mode: string, part: string) => `${mode}, ${part}`,
    about: (hz: string) => `about ${hz} Hz`,
    share: (part: Part, percent: string) => `${boxCodes.parts[part]} ${percent} %`,
    drawing: (mode: string, shares: readonly string[]) => `${mode}: motion shared as ${shares.join(', ')}`,
    motion: (shares: readonly string[]) => `Motion: ${shares.join(', ')}`,
    arrowHint:
      'An arrow’s length is how much air that part pushes, at the same moment; arrows out of the box swell it, arrows into it press it.',
  },

  whatIf: {
    title: 'What if',
    needsModel:
      'The knobs need a model of this box: its sizes, and the rounds with the hole open, with the hole blocked, and with a known mass, every peak named and nothing contradicted.',
    nowAndThen: 'Modes now and then',
    noBoxLeft: 'That leaves no box: the hole, the volume or the mass of the top would be gone. Turn a knob back.',
    oneThing: 'Turn one thing at a time',
    holeMm: 'Radius of the hole',
    depthMm: 'Depth of the box',
    noDepth: 'Depth: needs the outline, or both depths beside the volume.',
    bridgeG: 'Mass of the bridge',
    topPercent: 'Stiffness of the top',
    backPercent: 'Stiffness of the back',
    asItIs: 'As it is',
    knobsHint:
      'The moves are the three-piston model’s; the ± carries the doubt of its constants. A tenth off a brace’s height is about a quarter off its stiffness, and the braces are only a part of the top’s.',
    howMuch: 'How much each thing does',
    howMuchLabel: 'Moves for a small turn of each knob',
    mode: 'Mode',
    perHole: (length: string) => `${length} of hole radius`,
    perDepth: (length: string) => `${length} of depth`,
    perBridge: '1 g at the bridge',
    perTop: '1 % of top stiffness',
    perBack: '1 % of back stiffness',
    now: (hz: string) => `now ${hz}`,
    move: (hz: string) => `move ${hz}`,
    noMove: 'move none',
    within: 'within the target',
    below: (hz: string) => `${hz} Hz below the target`,
    above: (hz: string) => `${hz} Hz above the target`,
    target: 'Target for the modes',
    noTarget: 'No target yet. Say where a mode should lie, and the knobs show how far it is.',
    remove: 'Remove',
    addTarget: 'Add a target',
    notes: 'Between the notes',
    tuning: 'Tuning in use',
    cents: 'cents',
    onNote: (modes: readonly string[]) =>
      `On a note: ${modes.map((mode) => mode.toLowerCase()).join(', ')}. That note may sound loud and short. Common practice, and not every maker’s.`,
    offNotes: 'No mode lies on a note that can be played. Common practice, and not every maker’s.',
    notesLabel: 'Cents from the nearest note on each string',
    modeAt: (mode: string, hz: string) => `${mode}, ${hz} Hz`,
    belowIt: 'below it',
    aboveIt: 'above it',
    centsFrom: (cents: string, note: string) => `${cents} from ${note}`,
    open: 'open',
    fret: (n: number) => `fret ${n}`,
    perhapsNear: (where: string) => `${where}, perhaps near`,
  },

  response: {
    title: 'Response',
    needsModel:
      'The predicted curve needs a model of this box: its sizes, and the rounds with the hole open, with the hole blocked, and with a known mass.',
    level: 'Sound level',
    reading: 'Reading the sound …',
    noSound: 'The sound of this round is not on this machine.',
    levelTitle: 'Predicted level of the box over the measured spectrum',
    perNewton: 'dB re 20 µPa per N',
    fullScale: 'dB re full scale',
    predicted: 'predicted',
    measured: 'measured',
    moved: (db: string) =>
      `The microphone is not calibrated and the finger’s force unknown, so the predicted curve is moved by ${db} dB onto the measured one: compare the shapes, not the heights. A soft fingertip also lowers the measured curve toward higher frequencies.`,
    otherMoves:
      'Where the measured curve has a peak that the predicted one lacks, something other than air, top and back moves.',
    mobility: 'How easily the bridge moves (mobility)',
    mobilityTitle: 'Predicted mobility at the bridge',
    mobilityAxis: 'dB re 1 m/s per N',
    mobilityHint:
      'How readily the strings can move the top. High peaks make loud, short notes. The model knows three modes; above the highest of them a real top moves more than this.',
  },
};
