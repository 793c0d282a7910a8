// Every code of the program as a word or a sentence of the bench.
import type { Circumstance, Obstacle } from '../../../compare/conditions.ts';
import type { Missing } from '../../../compare/course.ts';
import type { Stage, Support } from '../../../record/record.ts';
import type { Refusal } from '../../../signal/tap.ts';
import { number, withHalfWidth } from '../../parts/figures.ts';
import { noticeSentence } from './notices.ts';

const stageWords: Readonly<Record<Stage, string>> = {
  board: 'Board',
  joined: 'Joined plate',
  thicknessed: 'Thicknessed',
  braced: 'Braced',
  'on-rims': 'On the rims',
  closed: 'Closed box',
  strung: 'Strung',
};

const holdWords: Readonly<Record<Support['hold'], string>> = {
  'at-node': 'Held at a node',
  'on-foam': 'On foam blocks',
  'in-mould': 'Clamped in the mould',
  'box-open': 'Hole open',
  'box-hole-blocked': 'Hole blocked',
  'box-back-damped': 'Back damped',
};

const bridgeWords: Readonly<Record<Support['bridge'], string>> = {
  off: 'No bridge',
  taped: 'Bridge taped',
  glued: 'Bridge glued',
};

const spotWords: Readonly<Record<string, string>> = {
  'lower-bout-centre': 'Lower bout, centre',
  'bridge-centre': 'Bridge, centre',
  'bridge-bass': 'Bridge, bass end',
  'bridge-treble': 'Bridge, treble end',
  'behind-bridge': 'Behind the bridge',
  waist: 'Waist',
  'upper-bout': 'Upper bout',
  edge: 'Edge',
  corner: 'Corner of the board',
  'back-centre': 'Back, centre',
};

function refusalWords(refusal: Refusal): string {
  switch (refusal.because) {
    case 'clipped':
      return 'Too loud: the microphone was overdriven. Tap more gently or move it away.';
    case 'too-quiet':
      return `Too quiet: only ${number(Math.max(0, refusal.aboveRoomDb), 0)} dB above the room and its hum. Tap closer to the microphone or quiet the room.`;
    case 'struck-twice':
      return `Struck twice, ${number(refusal.afterS * 1000, 0)} ms apart. Let the finger bounce off.`;
    case 'decay-cut-short':
      return 'The ring was cut short. Leave the plate free until it is silent.';
    case 'drop-out':
      return 'The sound had a gap: the machine lost some of it. Tap again.';
    case 'spliced':
      return `Some of the ring is missing, ${number(refusal.afterS * 1000, 0)} ms after the tap: the machine lost it. Tap again.`;
    case 'not-a-tap':
      return {
        speech: 'That was a voice, not a tap.',
        clap: 'That was a clap or a knock on something dead, not the plate.',
        scrape: 'That was a scrape, not a tap.',
        noise: 'That was noise, not a tap.',
      }[refusal.soundsLike];
  }
}

function obstacleWords(obstacle: Obstacle): string {
  switch (obstacle.kind) {
    case 'stage':
      return `the stage differs (${stageWords[obstacle.before].toLowerCase()} and ${stageWords[obstacle.after].toLowerCase()})`;
    case 'hold':
      return `the support differs (${holdWords[obstacle.before].toLowerCase()} and ${holdWords[obstacle.after].toLowerCase()})`;
    case 'bridge':
      return `the bridge differs (${bridgeWords[obstacle.before].toLowerCase()} and ${bridgeWords[obstacle.after].toLowerCase()})`;
    case 'strings':
      return 'one was strung and the other not';
    case 'added-mass':
      return `the added mass or its place differs (${number(obstacle.beforeG, 1)} g and ${number(obstacle.afterG, 1)} g)`;
  }
}

/** @param degreesOff a difference of temperature in the maker's unit */
function circumstanceWords(circumstance: Circumstance, degreesOff: (differenceC: number) => string): string {
  switch (circumstance.kind) {
    case 'air': {
      const { humidityChangePercent: humidity, tempChangeC } = circumstance;
      const direction = (change: number) => (change > 0 ? 'up' : 'down');
      const changes = [
        humidity === undefined
          ? undefined
          : `humidity went ${direction(humidity)} by ${number(Math.abs(humidity), 0)} %RH`,
        tempChangeC === undefined
          ? undefined
          : `temperature went ${direction(tempChangeC)} by ${degreesOff(tempChangeC)}`,
      ].filter((change) => change !== undefined);
      const sentence = changes.join(', ');
      return `${sentence[0]?.toUpperCase()}${sentence.slice(1)} between the two. The change of air alone moves the modes by about ${withHalfWidth(circumstance.frequencyPercent, '%')}.`;
    }
    case 'humidity-unknown': {
      const { tempChangeC } = circumstance;
      const also =
        tempChangeC === undefined
          ? ''
          : ` It was ${degreesOff(tempChangeC)} ${tempChangeC > 0 ? 'warmer' : 'colder'} at the second, too.`;
      return `Humidity was not noted at both steps: what the weather did cannot be told from what the shaving did.${also}`;
    }
    case 'spot':
      return 'The plate was tapped at different spots: a mode may be missing on one side because it was not excited there.';
  }
}

function missingWords(missing: Missing): string {
  switch (missing.what) {
    case 'steps':
      return `needs ${missing.need} measured steps, has ${missing.have}`;
    case 'amounts':
      return 'needs the weight or the depth taken off at two steps at least';
    case 'effect':
      return 'the passes so far moved it too little to tell';
  }
}

/** Words of the codes that are used in several views. */
export const codes = {
  stages: stageWords,
  holds: holdWords,
  bridges: bridgeWords,
  spots: spotWords,
  refusal: refusalWords,
  obstacle: obstacleWords,
  circumstance: circumstanceWords,
  missing: missingWords,
  /** a word of these lists within a sentence: "braced" */
  midSentence: (word: string): string => word.toLowerCase(),
  notice: noticeSentence,
};
