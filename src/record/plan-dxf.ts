// A sheet as DXF R12 in millimetres: polylines and texts by layer, and a 100 mm line to measure by.
import { CHECK_MM } from './plan-sheet.ts';
import type { Sheet } from './sheet.ts';

const pair = (code: number, value: string | number): string =>
  `${code}\n${typeof value === 'number' ? String(Math.round(value * 1e6) / 1e6) : value}\n`;

/**
 * The sheet as DXF R12 with an ENTITIES section only; y turned upward, as drawing programs have it.
 * Source: DXF R12 reference (AC1009): POLYLINE, VERTEX, SEQEND, LINE, TEXT.
 */
export function sheetDxf(sheet: Sheet): string {
  const up = (y: number): number => sheet.heightMm - y;
  const polylines = sheet.lines
    .filter((line) => line.points.length > 1)
    .map(
      ({ layer, points, closed }) =>
        pair(0, 'POLYLINE') +
        pair(8, layer) +
        pair(66, 1) +
        pair(70, closed ? 1 : 0) +
        points
          .map(([x, y]) => pair(0, 'VERTEX') + pair(8, layer) + pair(70, 0) + pair(10, x) + pair(20, up(y)))
          .join('') +
        pair(0, 'SEQEND'),
    );
  const texts = sheet.texts.map(
    ({ layer, at, angleDeg, heightMm, text }) =>
      pair(0, 'TEXT') +
      pair(8, layer) +
      pair(10, at[0]) +
      pair(20, up(at[1])) +
      pair(40, heightMm) +
      pair(1, text) +
      pair(50, -angleDeg) +
      // Set by its middle: 72 and 73 say so, 11 and 21 where.
      pair(72, 1) +
      pair(11, at[0]) +
      pair(21, up(at[1])) +
      pair(73, 2),
  );
  const scale = pair(0, 'LINE') + pair(8, 'SCALE') + pair(10, 0) + pair(20, -5) + pair(11, CHECK_MM) + pair(21, -5);
  return `${pair(0, 'SECTION')}${pair(2, 'ENTITIES')}${polylines.join('')}${scale}${texts.join('')}${pair(0, 'ENDSEC')}${pair(0, 'EOF')}`;
}
