// The names of the demo's sounds, by which they can be told from those of real taps.
import type { TapCut } from './demo-taps.ts';

/** The id of the sound of a tap. @param file name of the file of its round, without its ending */
export const demoTapId = (file: string, tap: Pick<TapCut, 'hold' | 'number'>): string =>
  `demo-${file}-${tap.hold + 1}-${tap.number + 1}`;

/** The file that a sound of the demo is cut from; undefined for the id of any other sound. */
export const fileOfDemoTap = (id: string): string | undefined => /^demo-(.+)-\d+-\d+$/.exec(id)?.[1];
