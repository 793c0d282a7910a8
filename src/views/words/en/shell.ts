import type { View } from '../../../app/place.ts';

const views: Readonly<Record<View, string>> = {
  bench: 'Bench',
  steps: 'Steps',
  wood: 'Wood',
  plan: 'Plan',
  forecast: 'Forecast',
  box: 'Box',
  record: 'Record',
  settings: 'Settings',
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
  newerVersion: 'A newer version lies ready.',
  startIt: 'Start it',
  drawing: 'Drawing …',
  loadingView: 'One moment …',
  viewMissing: 'This part of the page could not be fetched. Your records are safe.',
  loadAgain: 'Load the page again',
};
