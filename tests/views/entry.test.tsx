// @vitest-environment happy-dom
import { signal } from '@preact/signals';
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Workshop } from '../../src/app/workshop.ts';
import { removals } from '../../src/record/cuts.ts';
import { freshStep } from '../../src/record/edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import { defaultSettings } from '../../src/storage/settings.ts';
import { ShavingEntry } from '../../src/views/plan/shaving.tsx';
import { WorkshopContext } from '../../src/views/workshop-context.ts';

const atIso = '2026-11-25T08:00:00.000Z';
const plan = startPlan('right');
const brace = plan.braces[0]!;

/** As much of a workshop as the form asks for. */
function workshop() {
  const record = signal<InstrumentRecord>({ ...newRecord({ id: 'a', createdAtIso: atIso, name: 'A' }), plan });
  const made = {
    preferences: { settings: signal(defaultSettings) },
    shelf: {
      record,
      edit: async (_id: string, _editName: string, change: (record: InstrumentRecord) => InstrumentRecord) => {
        record.value = change(record.value);
        return [];
      },
    },
    newId: () => 'c1',
    beginStep: () => freshStep('s1', atIso, undefined),
  };
  return { record, workshop: made as unknown as Workshop };
}

let root: HTMLElement;
beforeEach(() => {
  root = document.createElement('div');
  document.body.append(root);
});
afterEach(() => {
  render(null, root);
  root.remove();
});

const field = (label: string): HTMLInputElement => {
  const named = [...root.querySelectorAll('label')].find((each) => each.textContent === label);
  const input = named === undefined ? null : document.getElementById(named.htmlFor);
  if (!(input instanceof HTMLInputElement)) throw new Error(`no field ${label}`);
  return input;
};
const type = (label: string, text: string) =>
  act(() => {
    const input = field(label);
    input.value = text;
    input.dispatchEvent(new Event('input', { bubbles: true }));
    input.dispatchEvent(new Event('change', { bubbles: true }));
  });
const enter = (): HTMLButtonElement =>
  [...root.querySelectorAll('button')].find((button) => button.textContent === 'Enter this shaving')!;
const press = () =>
  act(() => {
    enter().dispatchEvent(new Event('click', { bubbles: true }));
  });

function shown() {
  const made = workshop();
  act(() =>
    render(
      <WorkshopContext.Provider value={made.workshop}>
        <ShavingEntry record={made.record.value} plan={plan} brace={brace} />
      </WorkshopContext.Provider>,
      root,
    ),
  );
  return made.record;
}

describe('a form is not entered while a field of it is wrong', () => {
  test.each([
    ['too much', 'Taken off', '25', 'Between 0 and 20'],
    ['no number', 'Taken off', 'half', ''],
    ['nothing', 'Taken off', '', 'Needed here.'],
    ['nothing where it begins', 'Shave from', ' ', 'Needed here.'],
  ])(
    '%s: the button is off and says why, a press enters nothing, and what is right again is entered',
    (_what, label, text, told) => {
      const record = shown();
      type(label, text);
      expect(root.querySelector('.field.wrong')?.textContent).toContain(told);
      expect(enter().disabled).toBe(true);
      expect(root.textContent).toContain('Put right what is marked first.');
      // Nor is told what an older value would take off.
      expect(root.textContent).not.toContain('Takes off');
      press();
      expect(record.value.steps).toEqual([]);
      type('Shave from', '100');
      type('Shave to', '200');
      type('Taken off', '0.4');
      expect(enter().disabled).toBe(false);
      expect(root.textContent).toContain('Takes off');
      press();
      const [cut] = record.value.steps[0]!.cuts;
      expect(cut).toMatchObject({ id: 'c1', brace: brace.name, braceIds: [brace.id], offMm: 0.4 });
      // Typed from the tail end; the leg of the X was drawn from the neck.
      const length = Math.hypot(brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm);
      expect(brace.to.xMm).toBeLessThan(brace.from.xMm);
      expect(cut?.fromMm).toBeCloseTo(length - 200, 9);
      expect(cut?.toMm).toBeCloseTo(length - 100, 9);
      // 0.4 mm over 100 mm that run out over 4 mm at both ends: 96 mm; a rounded section is 1/2 + pi/8 of its box.
      const grams = 0.4 * 96 * brace.widthMm * (0.5 + Math.PI / 8) * plan.braceWood.densityKgM3.value * 1e-6;
      expect(removals(record.value)[0]!.massOffG! / grams).toBeCloseTo(1, 6);
    },
  );
});

test('a second press enters nothing, until another cut is typed or as much again is asked for', () => {
  const record = shown();
  type('Taken off', '0.4');
  const offs = () => record.value.steps.flatMap(({ cuts }) => cuts.map(({ offMm }) => offMm));
  press();
  press();
  expect(offs()).toEqual([0.4]);
  act(() => {
    [...root.querySelectorAll('button')].find(({ textContent }) => textContent === 'As much again')!.click();
  });
  press();
  type('Taken off', '0.3');
  press();
  expect(offs()).toEqual([0.4, 0.4, 0.3]);
});
