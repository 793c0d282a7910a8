// The codes of the closed box, its rounds and what follows from them, in the words of the bench.
import type { NotMeasurable } from '../../../box/inverse.ts';
import type { Part } from '../../../box/pistons.ts';
import type { Contradiction, RoundPeak } from '../../../box/rounds.ts';
import type { Evidence, PeakVerdict, WhichPart } from '../../../box/which-part.ts';
import type { CavityNeed } from '../../../compare/box-cavity.ts';
import type { PeakLabel, StateRound } from '../../../compare/box-evidence.ts';
import type { BoxState } from '../../../compare/box-state.ts';
import { number, withHalfWidth } from '../../parts/figures.ts';
import { stateGuides } from './box-guides.ts';

const partWords: Readonly<Record<PeakLabel, string>> = {
  air: 'air',
  top: 'top',
  back: 'back',
  other: 'none of these',
};

const stateWords: Readonly<Record<BoxState, string>> = {
  open: 'Box as it is',
  blocked: 'Hole blocked',
  'back-damped': 'Back damped by hand',
  mass: 'Known mass at the bridge',
  'tap-on-back': 'Tap on the back',
  'mass-on-back': 'Known mass on the back',
};

const cavityNeeds: Readonly<Record<CavityNeed, string>> = {
  'body-length': 'the inside length of the body',
  'lower-bout': 'the width at the lower bout',
  waist: 'the width at the waist',
  'upper-bout': 'the width at the upper bout',
  depths: 'the depths at tail and neck',
  volume: 'the air volume',
  'hole-radius': 'the radius of the hole',
  'hole-edge': 'the thickness of the top at the rim of the hole',
};

/** Blocks fill more than there is, or a volume is none. */
function noVolumeWords(emptyL: number, occupiedL: number): string {
  return emptyL > 0
    ? `Blocks and braces are said to fill ${number(occupiedL, 1)} litres, but the empty box holds only ${number(emptyL, 1)}. One of the two is wrong.`
    : `The box is said to hold ${number(emptyL, 1)} litres of air. A volume is above zero: look at the depths and the volume typed.`;
}

/** "a, b and c". */
export function listed(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

function roundName(rounds: readonly StateRound[], at: number): string {
  const round = rounds[at];
  return round === undefined ? 'an earlier round' : `“${stateWords[round.state]}”`;
}

function peakName(rounds: readonly StateRound[], peak: RoundPeak): string {
  return `the ${partWords[peak.part]} peak at ${withHalfWidth(peak.frequencyHz, 'Hz')} in ${roundName(rounds, peak.round)}`;
}

/** Which measurement contradicts which, and what to look at. */
function contradictionWords(contradiction: Contradiction, rounds: readonly StateRound[]): string {
  const peak = peakName(rounds, contradiction.peak);
  const against = contradiction.against === undefined ? '' : peakName(rounds, contradiction.against);
  const said = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
  switch (contradiction.because) {
    case 'air-while-blocked':
      return said(`${peak} is called air, but the hole was blocked there. Was this round taken with the hole open?`);
    case 'back-while-held':
      return said(`${peak} is called back, but the back was held there. Was it free, or is the peak another’s?`);
    case 'air-above-plate':
      return said(`${peak} lies above ${against}. The air’s peak is always the lowest: one of the two names is wrong.`);
    case 'blocked-below-open':
      return said(
        `${peak} lies below ${against}. Blocking the hole can push a peak down only as far as the next one below it. The two rounds may be exchanged, or a name is wrong.`,
      );
    case 'blocked-above-open':
      return said(
        `${peak} lies above ${against}. Blocking the hole can only lower what is left. The two rounds may be exchanged, or a name is wrong.`,
      );
    case 'held-below-free':
      return said(
        `${peak} lies below ${against}. Holding the back can push a peak down only as far as the next one below it. The two rounds may be exchanged, or a name is wrong.`,
      );
    case 'held-above-free':
      return said(
        `${peak} lies above ${against}. Holding the back can only lower what is left. The two rounds may be exchanged, or a name is wrong.`,
      );
    case 'mass-raised':
      return said(
        `${peak} lies above ${against}. An added mass can raise nothing. Did something else change, or was the lump on in the other round?`,
      );
    case 'mass-lowered-too-far':
      return said(
        `${peak} lies below ${against}. A mass cannot pull a peak past the one under it: a peak is missing or misnamed.`,
      );
  }
}

const parameterWords: Readonly<Record<string, string>> = {
  topVacuoHz: 'the top without the air',
  topGripHz: 'how hard the top presses on the air',
  backVacuoHz: 'the back without the air',
  backGripHz: 'how hard the back presses on the air',
  airHz: 'the air’s own resonance',
  topMassKg: 'the mass of the top',
  backMassKg: 'the mass of the back',
};

function notMeasurableWords(why: NotMeasurable, rounds: readonly StateRound[]): string {
  switch (why.because) {
    case 'not-positive':
      return `A ${why.what} of ${number(why.value, 2)} cannot be; it must be above zero.`;
    case 'too-few-peaks':
      return `The rounds so far give ${why.have} peaks and ${why.need} are needed. Take the next round below, or say which peaks are air, top and back.`;
    case 'mass-moved-nothing':
      return `The mass in ${roundName(rounds, why.round)} moved no peak beyond what is uncertain. Use a heavier lump, fix it firmly at the middle of the bridge, and check that it was on.`;
    case 'blocking-moved-nothing':
      return why.airStays
        ? `Every peak in ${roundName(rounds, why.round)} lies where it lay in “${stateWords.open}”, the lowest too. With the hole closed the air’s peak goes: was the hole tight, or was this round taken with it open?`
        : `Blocking the hole in ${roundName(rounds, why.round)} took the air’s peak away but moved no other. Top and back press on no air that can be read: a leak, or plates too stiff for this.`;
    case 'rounds-do-not-tell':
      return `The rounds leave open ${parameterWords[why.what] ?? why.what}. One more state (hole blocked, back damped, or a mass) would tell.`;
  }
}

/** What one round said of one peak. */
function evidenceWords({ doing, part, share }: Evidence): string {
  const percent = withHalfWidth({ value: 100 * share.value, sigma: 100 * share.sigma }, '%');
  const did = {
    'hole-blocked': 'Blocking the hole',
    'back-damped': 'Damping the back',
    'mass-at-bridge': 'The mass at the bridge',
    'tapped-on-back': 'Tapping the back',
  }[doing];
  return `${did} says ${percent} of its motion is the ${partWords[part]}’s.`;
}

/** Follows the peak's frequency. */
function verdictWords({ behavesLike, strength }: PeakVerdict): string {
  const sure = strength >= 0.95 ? 'behaves like' : strength >= 0.75 ? 'probably behaves like' : 'may behave like';
  switch (behavesLike) {
    case 'shared':
      return 'is shared: two parts move alike in it.';
    case 'none':
      return 'is none of the three: perhaps a mode of the plates that pumps no air.';
    case 'undecided':
      return 'is not told yet: the rounds leave it open.';
    default:
      return `${sure} the ${partWords[behavesLike]}.`;
  }
}

function unusedWords(unused: WhichPart['unused'][number]): string {
  const what = {
    'hole-blocked': 'hole blocked',
    'back-damped': 'back damped',
    'mass-at-bridge': 'mass at the bridge',
    'tapped-on-back': 'tap on the back',
  }[unused.doing];
  switch (unused.because) {
    case 'peak-count':
      return `The round “${what}” shows ${unused.have} named peaks where ${unused.need} are needed, so it tells nothing about which is which. Name its peaks above.`;
    case 'q-wanting':
      return `The round “${what}” only dulled the back, and a Q is wanting to say how much.`;
    case 'level-wanting':
      return `The round “${what}” needs the round with the mass beside it: without the top’s share its levels say nothing.`;
    case 'nothing-moved':
      return `In the round “${what}” nothing moved beyond what is uncertain. A heavier lump tells more.`;
  }
}

const modes: readonly [string, string, string] = ['Lowest mode', 'Second mode', 'Third mode'];

const partAlone: Readonly<Record<Part, string>> = {
  air: 'The air alone (walls that do not move)',
  top: 'The top alone (hole blocked, back held)',
  back: 'The back alone (hole blocked, top held)',
};

export const boxCodes = {
  parts: partWords,
  states: stateWords,
  guides: stateGuides,
  modes,
  partAlone,
  noVolume: noVolumeWords,
  measureForAir: (needs: readonly CavityNeed[]) =>
    `To say where the air rings, measure ${listed(needs.map((need) => cavityNeeds[need]))}.`,
  contradiction: contradictionWords,
  notMeasurable: notMeasurableWords,
  evidence: evidenceWords,
  verdict: verdictWords,
  unused: unusedWords,
};
