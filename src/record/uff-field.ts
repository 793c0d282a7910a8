// Fields of the Universal File Format: text and numbers in columns, as Fortran writes and reads them.

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/**
 * A moment as DD-MMM-YY HH:MM:SS, on the clock that wrote it.
 * @param iso RFC 3339
 * @throws RangeError for another text
 */
export function uffTime(iso: string): string {
  const match = /^\d\d(\d\d)-(\d\d)-(\d\d)[T ](\d\d:\d\d:\d\d)/.exec(iso);
  const month = months[Number(match?.[2]) - 1];
  if (match === null || month === undefined) throw new RangeError(`uffTime: "${iso}", need an RFC 3339 time`);
  return `${match[3]}-${month}-${match[1]} ${match[4]}`;
}

/** The time that `uffTime` wrote, or undefined where there is none. Years before 70 are of this century. */
export function isoFromUffTime(text: string): string | undefined {
  const match = /^(\d\d)-([A-Za-z]{3})-(\d\d) (\d\d:\d\d:\d\d)$/.exec(text);
  const month = months.findIndex((name) => name.toUpperCase() === match?.[2]?.toUpperCase());
  if (match === null || month < 0) return undefined;
  const century = Number(match[3]) < 70 ? '20' : '19';
  const iso = `${century}${match[3]}-${String(month + 1).padStart(2, '0')}-${match[1]}T${match[4]}.000Z`;
  return Number.isNaN(Date.parse(iso)) ? undefined : iso;
}

/** Letters that do not come apart into a plain letter and an accent. */
const plain: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  ø: 'o',
  Ø: 'O',
  œ: 'oe',
  Œ: 'OE',
  đ: 'd',
  ł: 'l',
  Ł: 'L',
  '°': 'deg',
  '±': '+-',
  '–': '-',
  '—': '-',
  '−': '-',
  '’': "'",
  '‘': "'",
  '“': '"',
  '”': '"',
};

/**
 * Text cut to a field and padded. Accents are folded to ASCII, what has no plain letter becomes `?`, and blank text
 * becomes NONE, as the format asks. Blanks are drawn together and a leading minus becomes `_`, because readers look for
 * four blanks and -1 anywhere.
 */
export function textField(text: string, width: number): string {
  const folded = Array.from(text, (letter) => plain[letter] ?? letter)
    .join('')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/\s+/g, ' ')
    .replace(/[^ -~]/gu, '?')
    .trim()
    .replace(/^-/, '_');
  return (folded === '' ? 'NONE' : folded).slice(0, width).padEnd(width);
}

/**
 * An integer right-justified.
 * @throws RangeError if it is no integer, does not fit, or would put four blanks before a -1, which readers take for
 *         the end of the dataset
 */
export function integerField(value: number, width: number): string {
  const text = String(value).padStart(width);
  if (!Number.isSafeInteger(value) || text.length > width || text.includes('    -1'))
    throw new RangeError(
      `integerField: ${value}, need an integer that fits ${width} columns and does not read as an end`,
    );
  return Object.is(value, -0) ? '0'.padStart(width) : text;
}

/**
 * A number with an exponent of two digits: `exponentField(1.5, 13, 5)` is `  1.50000E+00`. Beyond 1e99 it is held
 * there, below 1e-99 it is zero.
 * @throws RangeError if it is not finite
 */
export function exponentField(value: number, width: number, decimals: number, letter: 'E' | 'D' = 'E'): string {
  if (!Number.isFinite(value)) throw new RangeError(`exponentField: ${value}, need a finite number`);
  const largest = 9 * 1e99;
  const held = Math.abs(value) < 1e-99 ? 0 : Math.max(-largest, Math.min(largest, value));
  const [mantissa, exponent] = held.toExponential(decimals).split('e') as [string, string];
  const sign = exponent.startsWith('-') ? '-' : '+';
  return `${mantissa}${letter}${sign}${exponent.slice(1).padStart(2, '0')}`.padStart(width);
}

/** An integer from its columns, or undefined. Blank is zero, as in Fortran. */
export function readInteger(line: string, from: number, width: number): number | undefined {
  const text = line.slice(from, from + width).trim();
  if (text === '') return 0;
  return /^[+-]?\d{1,15}$/.test(text) ? Number(text) : undefined;
}

const real = /^([+-]?(?:\d+\.?\d*|\.\d+))(?:[EeDd]([+-]?\d{1,3})|([+-]\d{1,3}))?$/;

/** A number from its columns, with E, D or no letter before the exponent; undefined where there is none. */
export function readReal(line: string, from: number, width: number): number | undefined {
  const match = real.exec(line.slice(from, from + width).trim());
  if (match === null) return undefined;
  const value = Number(`${match[1]}e${match[2] ?? match[3] ?? 0}`);
  return Number.isFinite(value) ? value : undefined;
}

/** Text from its columns without the padding. */
export const readText = (line: string, from: number, width: number): string => line.slice(from, from + width).trim();
