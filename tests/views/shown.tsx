// Views put on a page of happy-dom, and the figures that are read off it.
import { signal } from '@preact/signals';
import { type ComponentChildren, render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, expect } from 'vitest';
import type { Workshop } from '../../src/app/workshop.ts';
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

/** Reads a figure as a person would. */
export function figureIn(text: string): Figure {
  const plain = text.replaceAll('\u00a0', ' ').replaceAll('−', '-');
  const found = /([+-]?\d+(?:\.(\d+))?)(?: ?± ?(\d+(?:\.\d+)?))? ?([^\d\s.,;:·]*)/.exec(plain);
  if (found === null) throw new Error(`no figure in "${text}"`);
  const [, value, decimals = '', halfWidth, unit = ''] = found;
  return {
    value: Number(value),
    halfWidth: halfWidth === undefined ? undefined : Number(halfWidth),
    unit,
    digit: 10 ** -decimals.length,
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

/** The figure is this number, without an interval: to half its last digit. */
export function expectNumber(text: string, value: number, unit: string): void {
  const figure = figureIn(text);
  expect([figure.halfWidth, figure.unit], text).toEqual([undefined, unit]);
  expect(Math.abs(figure.value - value), `${text} for ${value}`).toBeLessThanOrEqual(figure.digit * 0.5001);
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
