import type { Stage } from '../../../record/record.ts';
import { codes } from './codes.ts';

const stage = (of: Stage): string => codes.stages[of].toLowerCase();

/** Before gluing: what to expect at the next stage, and which mode becomes which. */
export const boxStages = {
  jumps: {
    title: 'Before gluing: what to expect',
    label: 'What to expect',
    reading: 'Reading the records …',
    backward: 'The stage after must come later than the stage before.',
    noMode: (mode: string, at: Stage) =>
      `This instrument has no mode named “${mode}” at the stage “${stage(at)}”. Tap it and name the mode on the bench.`,
    which: 'Which stage, which mode',
    otherName: 'A mode may go by another name afterwards: a loose top’s monopole is called top in the box.',
    noPlan: 'Draw the top under Plan and its shapes say which mode becomes which; until then it is for you to say.',
    noPlates:
      'The drawing knows the top thicknessed, braced and on the rims; between these stages it is for you to say.',
    byShapes: 'The shapes of the drawn top say which becomes which; your own word counts for more.',
    stageBefore: 'Stage before',
    modeBefore: 'Mode before',
    stageAfter: 'Stage after',
    modeAfter: 'Mode after',
    comparing: 'Comparing the shapes of the drawn top',
    unsolvable: 'The drawn top cannot be computed. Look at the plan.',
    otherwise: (yours: string, shapes: string) => `You say “${yours}”, the shapes say “${shapes}”.`,
    takeShapes: 'Take the shapes’ name',
    noEarlier: 'No earlier instrument on the shelf has both modes named at these two stages.',
    earlierLabel: 'Earlier instruments',
    instrument: 'Instrument',
    went: 'Went',
    tooFew: (have: number, need: number) =>
      `${have === 0 ? 'None of your earlier instruments has' : `Only ${have} of your earlier instruments ${have === 1 ? 'has' : 'have'}`} both modes named at these stages; ${need} are needed before they tell anything.`,
    expect: (low: string, high: string, instruments: number, now: string) =>
      `Expect it between ${low} and ${high} Hz, in 95 of 100 instruments built like your ${instruments} earlier ones. Now: ${now}.`,
    usual: (change: string, spread: string, instruments: number) =>
      `Usual change ${change}, scatter from instrument to instrument ${spread} %. With ${instruments} instruments the range is as wide as it must be; every further one narrows it.`,
  },

  byModels: {
    open: (then: string) => `By the drawn top it goes to ${then}.`,
    closed: (top: string, air: string) =>
      `By the drawn top, the sizes of the box and a back like most: the top’s peak at ${top}, the air’s at ${air}.`,
    closedHint: (alone: string) =>
      `On these rims with no air behind it the top would ring at ${alone}; the cushion of air pushes it up, a lively back pushes it down. Nobody has read the back yet, and its doubt is in the ±.`,
    alone: (alone: string) => `By the drawn top it would ring at ${alone} on these rims with no air behind it.`,
    needSizes: 'Where air and top ring in the box needs its sizes.',
    toSizes: 'Enter the sizes',
    rests: (tapped: number) =>
      tapped === 0
        ? 'The woods are those of the drawing: nothing tapped at the stage before could be told to be one of its modes. With taps the ± is narrower.'
        : `The woods are put where ${tapped === 1 ? 'one mode' : `${tapped} modes`} tapped before ${tapped === 1 ? 'puts' : 'put'} them. How the glued rim holds is not known from that.`,
  },

  shapes: {
    noMode: (mode: string, at: Stage) =>
      `The drawn top has no mode called “${mode}” among its lowest when ${stage(at)}. Name the mode after yourself.`,
    undecided: (mode: string, nearest: string, percent: string) =>
      `The shapes do not tell what becomes of “${mode}”: nearest comes ${nearest}, only ${percent} % alike. Name the mode after yourself.`,
    becomes: (mode: string, after: string, percent: string) =>
      `By its shape “${mode}” becomes “${after}”: ${percent} % alike.`,
    becomesByAir: (mode: string, after: string, percent: string, airPercent: string) =>
      `By its shape “${mode}” becomes “${after}”: ${percent} % alike, and of all modes on the rims it moves most air, ${airPercent} % of it as a piston would.`,
    all: (from: Stage, to: Stage) => `All modes of the drawn top, ${stage(from)} and ${stage(to)}`,
    tableLabel: 'Modes by their shapes',
    mostAlike: 'Most alike after',
    alike: 'Alike',
    name: 'Name',
    modeAt: (mode: string, hz: string) => `${mode}, ${hz}`,
    carried: 'carried',
    asked: 'asked',
    orderChanges: 'Some modes change places, so their rank would name them wrongly.',
    hint: (clearPercent: string) =>
      `Frequencies are those of the drawing, with no air behind it. Alike: 100 % where two shapes move in the same places by the same shares (engineers call it the modal assurance criterion), lifting and tilting of the whole top left out. Above ${clearPercent} % no other mode can be as much alike; below it you are asked.`,
  },
};
