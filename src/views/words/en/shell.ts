import type { View } from '../../../app/place.ts';
import type { NextThing } from '../../../compare/next-thing.ts';

const views: Readonly<Record<View, string>> = {
  bench: 'Bench',
  steps: 'Voicing',
  wood: 'Wood',
  plan: 'Plan',
  forecast: 'Forecast',
  box: 'Box',
  record: 'Record',
  settings: 'Settings',
};

const nextThings: Readonly<Record<NextThing, string>> = {
  'read-board': 'Put the board into Wood: its sizes, its weight, three taps. That says how thick the top may be.',
  join: 'Join the halves; when the glue is dry, begin a step for the joined top.',
  'thin-top': 'See in Wood how thick the top may be, thin it, and begin a step for it.',
  'draw-plan': 'Draw the top with its braces: then each shaving can be foreseen.',
  'tap-top': 'Tap the braced top as it is held now. That is the start every pass is held against.',
  'set-target': 'Say what each mode is to come to.',
  'next-pass': 'Take the proposed pass, tap, and see what it did.',
  'measure-box': 'Measure the box inside: what its air does follows from that.',
  'tap-box': 'Tap the box in its rounds: as it is, hole blocked, with a lump.',
  'name-box-peaks': 'Say which peak is the air, the top and the back.',
  'see-box': 'See what the box is made of, and what a change would do.',
  'note-old-top': 'Note the old top before it comes off: its damage, and its wood from a strip.',
  'match-wood': 'Match the wood of the new top to the old one, and settle its thickness.',
  'draw-new-top': 'Draw the new top with its braces.',
};

/** The frame around every view. */
export const shell = {
  views,
  viewsLabel: 'Views',
  toContent: 'To the content',
  saved: 'Saved',
  saving: 'Saving …',
  notSaved: 'Not saved',
  undo: 'Undo',
  redo: 'Redo',
  undoWhat: (what: string) => `Undo: ${what}`,
  redoWhat: (what: string) => `Redo: ${what}`,
  close: 'Close',
  welcome: {
    title: 'Tap a plate, and know what the next shaving will do',
    text: 'Tap the wood near a microphone: the page tells its modes with their uncertainty, follows them from shaving to shaving, and proposes the next pass with its odds. Everything stays on this machine. What you see now is an invented example.',
    picture: 'A tap on a braced top, the modes it rings with, and the way to the target',
    mine: 'Begin my own',
    example: 'Look at the example',
  },
  next: 'Next:',
  nextThings,
  toView: (view: string) => `To ${view}`,
  newerVersion: 'A newer version lies ready.',
  startIt: 'Start it',
  drawing: 'Drawing …',
  loadingView: 'One moment …',
  viewMissing: 'This part of the page could not be fetched. Your records are safe.',
  loadAgain: 'Load the page again',
};
