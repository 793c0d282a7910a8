// From the plan to the screen and back: the neck points up; seen from inside, left and right are exchanged.
import { boundingBox, type Point } from '../../plate/outline.ts';

/** From which side the drawing is seen. */
export type Face = 'inside' | 'outside';

/** Place on the screen drawing, in mm, of a place on the plan. */
export const onScreen = (face: Face, [x, y]: Point): Point => [face === 'outside' ? y : -y, -x];

/** Place on the plan of a place on the screen drawing. */
export const onPlan = (face: Face, [x, y]: Point): Point => [-y, face === 'outside' ? x : -x];

const short = (mm: number): string => String(Math.round(mm * 100) / 100);

/** SVG path through places of the plan. */
export function pathOf(face: Face, points: readonly Point[], closed: boolean): string {
  if (points.length === 0) return '';
  const steps = points.map((point) => onScreen(face, point).map(short).join(' '));
  return `M${steps.join('L')}${closed ? 'Z' : ''}`;
}

/** What the drawing shows, with room for its labels: SVG viewBox. */
export function viewBoxOf(outline: readonly Point[]): string {
  if (outline.length === 0) return '0 0 100 100';
  const [x0, y0, x1, y1] = boundingBox(outline);
  const half = Math.max(y1, -y0) + 14;
  return [-half, -x1 - 16, 2 * half, x1 - x0 + 46].map(short).join(' ');
}
