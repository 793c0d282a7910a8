// Views put on a page of happy-dom, and the figures that are read off it.
import { signal } from '@preact/signals';
import { type ComponentChildren, render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, expect } from 'vitest';
import type { Workshop } from '../../src/app/workshop.ts';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { defaultSettings, type Settings } from '../../src/storage/settings.ts';
import { WorkshopContext } from '../../src/views/workshop-context.ts';

let root: HTMLElement | undefined;
afterEach(() => {
  if (root !== undefined) render(null, root);
  root?.remove();
  root = undefined;
});

/** Shows a view with these settings. @param workshop what it asks for besides them */
export function show(view: ComponentChildren, settings: Partial<Settings> = {}, workshop: object = {}): HTMLElement {
  root = document.createElement('div');
  document.body.append(root);
  const place = root;
  const made = { preferences: { settings: signal({ ...defaultSettings, ...settings }) }, ...workshop };
  act(() =>
    render(<WorkshopContext.Provider value={made as unknown as Workshop}>{view}</WorkshopContext.Provider>, place),
  );
  return place;
}

/** What stands beside a term of a list of terms. */
export function beside(page: HTMLElement, term: string): string {
  const terms = [...page.querySelectorAll('dt')].filter(({ textContent }) => textContent === term);
  expect(terms, `terms ${term}`).toHaveLength(1);
  return terms[0]!.nextElementSibling?.textContent ?? '';
}

/** A figure of a text: the first number, its half width where it has one, and its unit. */
export interface Figure {
  readonly value: number;
  readonly halfWidth: number | undefined;
  readonly unit: string;
  /** one of the last digit shown */
  readonly digit: number;
}

/** Reads a figure as a person would; one in inches without decimals is off a rule divided to 1/64. */
export function figureIn(text: string): Figure {
  const plain = text.replaceAll('\u00a0', ' ').replaceAll('−', '-');
  const fraction = /([+-]?)(?:(\d+) )?(\d+)\/(\d+) (in)(?![a-z])/.exec(plain);
  const found = /([+-]?\d+(?:\.(\d+))?)(?: ?± ?(\d+(?:\.\d+)?))? ?([^\d\s.,;:·]*)/.exec(plain);
  if (found === null) throw new Error(`no figure in "${text}"`);
  if (fraction !== null && fraction.index <= found.index) {
    const [, sign, whole = 0, above, below] = fraction;
    const value = (sign === '-' ? -1 : 1) * (Number(whole) + Number(above) / Number(below));
    return { value, halfWidth: undefined, unit: 'in', digit: 1 / 64 };
  }
  const [, value, decimals = '', halfWidth, unit = ''] = found;
  return {
    value: Number(value),
    halfWidth: halfWidth === undefined ? undefined : Number(halfWidth),
    unit,
    digit: unit === 'in' && decimals === '' ? 1 / 64 : 10 ** -decimals.length,
  };
}

/** Normal quantile of a 95 % interval. Source: any table of the normal distribution. */
const HALF_WIDTH = 1.959964;

/** The figure is this value with this sigma: to half its last digit, its interval no narrower and at most a digit wider. */
export function expectFigure(text: string, value: number, sigma: number, unit: string): void {
  const figure = figureIn(text);
  expect(figure.unit, text).toBe(unit);
  expect(Math.abs(figure.value - value), `${text} for ${value}`).toBeLessThanOrEqual(figure.digit * 0.5001);
  const over = (figure.halfWidth ?? Number.NaN) - HALF_WIDTH * sigma;
  expect(over, `${text} for ± ${HALF_WIDTH * sigma}`).toBeGreaterThanOrEqual(-figure.digit * 1e-3);
  expect(over, `${text} for ± ${HALF_WIDTH * sigma}`).toBeLessThan(figure.digit * 1.001);
}

/**
 * What stands in a field of a length is that length: a millimetre to its thousandth, an inch to half a 64th where it is written
 * as a rule is read, else to half a thousandth.
 */
export function expectLength(text: string, inUnit: number, unit: string, name = text): void {
  const figure = figureIn(text);
  expect(figure.unit, name).toBe(unit);
  const isRuled = unit === 'in' && !text.includes('.');
  expect(Math.abs(figure.value - inUnit), `${name}: ${text} for ${inUnit}`).toBeLessThanOrEqual(
    isRuled ? 1 / 128 + 1e-9 : 5.01e-4,
  );
}

/** Waits for what a view fetches when it is first shown. */
export const settled = (): Promise<void> => act(() => new Promise<void>((done) => setTimeout(done)));

/** A field by its label, or by the name that is read aloud: what stands in it with its unit, and what stands below it. */
export function fieldNamed(page: HTMLElement, name: string) {
  const inputs = [...page.querySelectorAll('input')].filter(
    (input) =>
      (input.getAttribute('aria-label') ?? page.querySelector(`label[for="${input.id}"]`)?.textContent) === name,
  );
  expect(inputs, `fields ${name}`).toHaveLength(1);
  const input = inputs[0]!;
  return {
    text: `${input.value} ${input.nextElementSibling?.textContent ?? ''}`.trim(),
    hint: input.closest('.field')!.querySelector('.hint')?.textContent ?? '',
    type: (text: string) =>
      act(() => {
        input.value = text;
        input.dispatchEvent(new Event('change', { bubbles: true }));
      }),
  };
}

/** A cell by the name of its table, how its row begins, and the head of its column. */
export function cellOf(page: HTMLElement, table: string, row: string, column: string): string {
  const found = page.querySelector(`section[aria-label="${table}"]`);
  const heads = [...(found?.querySelectorAll('thead th') ?? [])].map(({ textContent }) =>
    textContent!.replace(' ↓', ''),
  );
  const rows = [...(found?.querySelectorAll('tbody tr') ?? [])].filter(({ textContent }) =>
    textContent!.startsWith(row),
  );
  expect([heads.filter((head) => head === column).length, rows.length], `${table}: ${row}, ${column}`).toEqual([1, 1]);
  return rows[0]!.children[heads.indexOf(column)]!.textContent!;
}

/** The one heading, paragraph, item or status with these words, its figures put for the groups of the pattern. */
export function figuresOf(page: HTMLElement, sentence: RegExp): readonly string[] {
  const found = [...page.querySelectorAll('h3, p, li, dd, dt, span')]
    .map(({ textContent }) => sentence.exec(textContent!.replaceAll('\u00a0', ' ')))
    .filter((match) => match !== null);
  const told = [...new Set(found.map(([all]) => all))];
  expect(told, `sentences ${sentence.source}`).toHaveLength(1);
  return found[0]!.slice(1);
}

/** Opens a part that is folded away. */
export function unfold(page: HTMLElement, summary: string): void {
  const found = [...page.querySelectorAll('details')].filter(
    (details) => details.querySelector('summary')?.textContent === summary,
  );
  expect(found, `parts ${summary}`).toHaveLength(1);
  act(() => {
    found[0]!.open = true;
    found[0]!.dispatchEvent(new Event('toggle'));
  });
}

/** The figure is this value, exact as far as it is shown, without an interval. */
export function expectPlain(text: string, value: number, unit: string): void {
  const figure = figureIn(text);
  expect([figure.unit, figure.halfWidth], text).toEqual([unit, undefined]);
  expect(Math.abs(figure.value - value), `${text} for ${value}`).toBeLessThanOrEqual(figure.digit * 0.5001);
}

/** Sigma of what follows from independent inputs, by the slope at their values. Source: JCGM 100:2008 (GUM) eq. 10. */
export function sigmaOf(of: (values: readonly number[]) => number, inputs: readonly Estimate[]): number {
  const values = inputs.map(({ value }) => value);
  const terms = inputs.map(({ value, sigma }, i) => {
    const step = 1e-5 * Math.abs(value);
    return ((of(values.with(i, value + step)) - of(values.with(i, value - step))) / (2 * step)) * sigma;
  });
  return Math.hypot(...terms);
}

/** The part of the page that goes by this name: the one labelled so, else the one that this heading opens. */
export function partNamed(page: HTMLElement, name: string): HTMLElement {
  const labelled = [...page.querySelectorAll<HTMLElement>('section, nav, ul, fieldset')].filter(
    (part) => part.getAttribute('aria-label') === name,
  );
  const headings = [...page.querySelectorAll('h1, h2, h3, legend, summary')].filter(
    ({ textContent }) => textContent === name,
  );
  const headed = headings.flatMap((heading) => heading.closest<HTMLElement>('section, li, fieldset, details') ?? []);
  const found = new Set(labelled.length > 0 ? labelled : headed);
  expect(found.size, `parts ${name}`).toBe(1);
  return [...found][0]!;
}

/** The cell of a table below this column's header, in the row of this header. */
export function cell(part: HTMLElement, row: string, column: string): string {
  const columns = [...part.querySelectorAll('thead th')].map(({ textContent }) => textContent);
  expect(columns, `columns of ${row}`).toContain(column);
  const rows = [...part.querySelectorAll('tbody tr')].filter(
    (tr) => tr.querySelector('th[scope="row"]')?.textContent === row,
  );
  expect(rows, `rows ${row}`).toHaveLength(1);
  return rows[0]!.children[columns.indexOf(column)]?.textContent ?? '';
}

/** A figure set large, its unit and ± beside it, as one text. */
export function largeFigure(part: ParentNode): string {
  const text = part.querySelector('.figure-value')?.textContent ?? '';
  const [, value, unit, halfWidth] = /^([\d.]+)(\D+)±([\d.]+)$/.exec(text.replaceAll('\u00a0', ' ')) ?? [];
  return `${value} ± ${halfWidth} ${unit}`;
}

/** What stands in the field of this label, with its unit. */
export function inField(page: ParentNode, label: string): string {
  const inputs = [...page.querySelectorAll('input')].filter(
    (input) => (input.getAttribute('aria-label') ?? input.labels?.[0]?.textContent) === label,
  );
  expect(inputs, `fields ${label}`).toHaveLength(1);
  return `${inputs[0]!.value} ${inputs[0]!.parentElement!.querySelector('.unit')?.textContent ?? ''}`.trim();
}

/** The unit systems: settings, what lengths and masses are then called, and how many a millimetre and a gram are. Factors: NIST SP 811 (2008) Appendix B, exact. */
export const unitSystems: readonly {
  readonly settings: Pick<Settings, 'length' | 'mass'>;
  readonly length: { readonly unit: string; readonly perMm: number };
  readonly mass: { readonly unit: string; readonly perG: number };
}[] = [
  { settings: { length: 'mm', mass: 'g' }, length: { unit: 'mm', perMm: 1 }, mass: { unit: 'g', perG: 1 } },
  {
    settings: { length: 'inch', mass: 'oz' },
    length: { unit: 'in', perMm: 1 / 25.4 },
    mass: { unit: 'oz', perG: 16 / 453.59237 },
  },
];
