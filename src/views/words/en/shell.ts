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
  newerVersion: 'A newer version lies ready.',
  startIt: 'Start it',
  drawing: 'Drawing …',
  loadingView: 'One moment …',
  viewMissing: 'This part of the page could not be fetched. Your records are safe.',
  loadAgain: 'Load the page again',
};
