import { profileShapeWords, sectionShapeWords } from './brace.ts';

/** What is made of a piece: a brace, a plate of some thickness, a glued dome; and what the weather does to it. */
export const woodMaking = {
  brace: {
    readFirst: 'Tap the stick and keep its reading first.',
    section: 'Section',
    sections: sectionShapeWords,
    shapes: profileShapeWords,
    plateMm: 'Plate under it',
    plateModulusHint: 'Across the grain about 1, along it about 12',
    onePlace: 'The stations lie in one place: a brace needs two at least, some way apart.',
    heights: 'Heights along it',
    theBrace: 'the brace',
    heightsLabel: 'Heights along the brace',
    along: 'Along it',
    stiffnessThere: 'EI there',
    stationAlong: (n: number) => `Station ${n}, along it`,
    stationHeight: (n: number) => `Station ${n}, height`,
    remove: 'Remove',
    oneMore: 'One more station',
    even: 'Pressed in its middle it is like an even brace of EI',
    stiffest: 'Stiffest station',
    softest: 'Softest station',
    bareStrip: 'Bare strip of plate',
    mass: 'Mass of the brace',
    gluedHint:
      'Glued to its strip without slip, on supports at both ends; the ± is the stick’s alone. EI does not say how much it can carry.',
    noOther: "No other measured stick yet: once there is one, it says how high it must be in this one's place.",
    standIns: 'Sticks that could stand in',
    inItsPlace: 'In its place',
    heightAlone: 'Height alone',
    heightGlued: 'Height glued',
    massAgainst: 'Mass against this one',
  },

  thickness: {
    readFirst: 'Tap the board and keep its reading first: the thickness follows from it.',
    chooseEqual: 'Choose what it should equal.',
    finishedHint: 'Noted once it is a plate: other boards can then be held against it',
    patchHint: 'The moving part of the top, as if clamped',
    areaHint: (area: string) => `This board has ${area}`,
    choicesLabel: 'Thickness by each criterion',
    toHave: 'To have',
    againstThinnest: 'Against the thinnest',
    waysApart: (mm: string) =>
      `The ways of being equal lie ${mm} apart. None is the right one: which stiffness you want to keep is yours to say.`,
    by: 'Thickness this plate by',
    stopAt: (mm: string) => `Stop the machine at ${mm}`,
    checkAt: (mm: string) =>
      `Stop at ${mm} first and measure again: above it the target is surely not passed yet. Finish adds mass and a little stiffness later; wood cannot be put back.`,
    noteStop: 'Note this stop line with the piece',
    noted: (when: string, mm: string) => `Noted ${when}: stop at ${mm}.`,
    changedSince: 'The figures above have changed since.',
    modesAgainst: 'Free modes of this board against its thickness',
    sizesFirst: 'Enter length and width first.',
    solving: (thicknesses: number) => `Solving the plate at ${thicknesses} thicknesses …`,
    failed: (message: string) => `The curve could not be computed (${message}).`,
    chartTitle: 'Free modes against thickness',
    thicknessAxis: (unit: string) => `Thickness, ${unit}`,

    shouldEqual: 'It should equal',
    asMeasured: (piece: string, owner: string) => `${piece} (${owner}), as measured`,
    asFinished: (piece: string, owner: string) => `${piece} (${owner}), as finished`,
    handbookPlate: (species: string) => `A handbook plate: ${species === '' ? 'softwood' : species}`,
    ownTarget: 'My own target',
    pieceGone: 'The piece it should equal is not on this machine any more, or its reading is gone.',
    referenceThickness: 'Reference thickness',
  },

  gluing: {
    may: 'May I glue today?',
    windowHint: (offsetPercent: string) =>
      `40 to 50 %RH is common practice, not a law. The hygrometer’s offset (${offsetPercent} %) and its doubt are in the settings.`,
    typeReading: 'Type what the hygrometer reads.',
    gate: {
      glue: 'Glue: the air is inside your window.',
      'wait-too-damp': 'Wait: the air is too damp. What is glued now will sink or crack when it dries.',
      'wait-too-dry': 'Wait: the air is too dry. What is glued now will dome and lift when it gets damp.',
      unsure: 'Not sure: the hygrometer’s own doubt reaches over an edge of your window. Check it against a known one.',
    },
    trueHumidity: (humidity: string, moisture: string) =>
      `True humidity ${humidity}; wood at rest in it holds ${moisture} moisture.`,
    noStep: 'Once an instrument has a step, this air can be stamped on it.',
    whatIsGlued: 'What is being glued',
    stamp: (step: number, instrument: string) => `Stamp this air on step ${step} of ${instrument}`,
    stepAt: (done: string, when: string) => `${done}, ${when}.`,
    stamped: (air: string) => `Stamped: glued in ${air}.`,
    dome: 'What the dome will do',
    gluedAt: (percent: string, isToday: boolean) =>
      `Glued at ${percent} %RH${isToday ? '' : ' (type today’s reading above for your own air)'}, one brace across the grain with its strip of plate:`,
    middleAt: (percent: string) => `in the middle at ${percent} %RH`,
    domeHint:
      'Plus: the outside domes higher. An expectation, not a measurement: spacing, glue and rim move it by a factor of two.',
    plateAndBrace: 'Plate and brace',
    handbook: (species: string) => `Handbook: ${species}`,
    measured: (piece: string, owner: string) => `${piece} (${owner}), measured`,
    plateWood: 'Wood of the plate',
    eAcross: (gpa: string) => `E across ${gpa} GPa`,
    braceWood: 'Wood of the brace',
    plate: 'Plate',
  },

  weather: {
    noAir:
      'Note what the hygrometer read when the piece was tapped (above, under Air): without it nothing can be said.',
    rests: (air: string, moisture: string) =>
      `At ${air} the wood comes to rest at ${moisture} moisture (the handbook's formula is good to about 1 %). It takes days to weeks to get there.`,
    tableLabel: 'At the reference climate',
    mode: 'Mode',
    measured: 'Measured',
    at: (air: string) => `At ${air}`,
    change: 'Change',
    carried: (air: string, mass: string, along: string, across: string) =>
      `Carried to ${air}, its mass changes by ${mass}, its stiffness along the grain by ${along}, across by ${across}.`,
    noShrinkage: 'Movement across the width: not known here, the handbook has no shrinkage for this wood.',
    noWidth: 'Movement across the width: enter the width of the piece first.',
    movesAt: (move: string, percent: string) => `${move} at ${percent} %RH`,
    moves: (at: readonly string[]) => `Across its width it moves by ${at.join(' and ')}, quartersawn.`,
  },
};
