// A sheet as an SVG file in millimetres: one user unit is one millimetre, each layer a named group.
import type { Sheet, SheetText } from './sheet.ts';

const short = (mm: number): string => String(Math.round(mm * 1000) / 1000);
const escaped = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** SVG path data through points. */
export function pathData(points: readonly (readonly [number, number])[], closed: boolean): string {
  return points.length === 0
    ? ''
    : `M${points.map((point) => point.map(short).join(' ')).join('L')}${closed ? 'Z' : ''}`;
}

/** Half the height of capitals as a share of that of the type, by which a text is lowered to stand about its place. From memory. */
const HALF_CAPITAL = 0.35;

/** Puts a text whose baseline starts at 0, 0 where it stands on a sheet. */
export const textTransform = ({ at, angleDeg, heightMm }: SheetText): string =>
  `translate(${at.map(short).join(' ')}) rotate(${short(angleDeg)}) translate(0 ${short(HALF_CAPITAL * heightMm)})`;

/** The sheet at full size. Source: W3C SVG 1.1, sections 5.1.2 and 7.10 (units). */
export function sheetSvg(sheet: Sheet): string {
  const layers = [...new Set([...sheet.lines, ...sheet.texts].map(({ layer }) => layer))];
  const groups = layers.map((layer) => {
    const paths = sheet.lines
      .filter((line) => line.layer === layer && line.points.length > 0)
      .map((line) => `<path d="${pathData(line.points, line.closed)}"/>`);
    const texts = sheet.texts
      .filter((text) => text.layer === layer)
      .map(
        (text) =>
          `<text transform="${textTransform(text)}" font-size="${short(text.heightMm)}" text-anchor="middle" fill="black" stroke="none">${escaped(text.text)}</text>`,
      );
    return `<g id="${layer}">\n${[...paths, ...texts].join('\n')}\n</g>`;
  });
  const [width, height] = [short(sheet.widthMm), short(sheet.heightMm)];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" fill="none" stroke="black" stroke-width="0.2" font-family="sans-serif">\n${groups.join('\n')}\n</svg>\n`;
}
