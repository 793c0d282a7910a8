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
