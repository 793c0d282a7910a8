// Reading an outline takes time in proportion to the length of the file, whatever stands in it.
import { importOutline } from '../../src/record/plan-import.ts';

/** Texts that cost a reader which begins anew at every character the square of their length. */
const awkward: Readonly<Record<string, (length: number) => string>> = {
  'tags that never end': (length) => '<path '.repeat(length / 6),
  'one tag of bare words': (length) => `<path ${'a '.repeat(length / 2)}`,
  'one long word in a tag': (length) => `<path ${'a'.repeat(length)}`,
  'spaces before an equals sign': (length) => `<svg ${'a          '.repeat(length / 11)}`,
  'quotes that never close': (length) => `<path d="${"<path d='".repeat(length / 9)}`,
  'comments that never close': (length) => '<!-'.repeat(length / 3),
  'many short paths': (length) => '<path d="M0 0h9"/>'.repeat(length / 18),
  'one long path': (length) => `<path d="M0 0${'h1v1'.repeat(length / 4)}"/>`,
  'one long number': (length) => `<path d="M${'1'.repeat(length)}"/>`,
  'polylines of a DXF': (length) => '0\nPOLYLINE\n0\nVERTEX\n10\n1\n20\n2\n'.repeat(length / 31),
};

/** Milliseconds for 120,000 characters, and the ratio to those for half as many: 2 where the work is linear. */
export function outlineTimes(): readonly string[] {
  return Object.entries(awkward).map(([what, of]) => {
    const timed = (length: number): number => {
      const text = of(length);
      const name = what.endsWith('DXF') ? 'a.dxf' : 'a.svg';
      const times = Array.from({ length: 15 }, () => {
        const begin = performance.now();
        importOutline(name, text);
        return performance.now() - begin;
      });
      return times.sort((a, b) => a - b)[7]!;
    };
    timed(60_000);
    const [half, whole] = [timed(60_000), timed(120_000)];
    return `${what.padEnd(30)} ${whole.toFixed(2).padStart(8)} ms for 120 kB, ${(whole / half).toFixed(1)} times that for 60 kB`;
  });
}
