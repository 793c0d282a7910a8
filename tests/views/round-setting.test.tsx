// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { RoundSettingFields } from '../../src/views/steps/round-setting.tsx';
import { story } from '../compare/story.ts';
import { show } from './shown.tsx';

test('a round that was held or tapped otherwise is put right, and its taps stay', () => {
  let record: InstrumentRecord = story([{ modesHz: [194] }, { modesHz: [190] }]);
  const step = record.steps[1]!;
  const [round] = step.rounds;
  const page = show(
    <RoundSettingFields
      record={record}
      step={step}
      round={round!}
      place={{ recordId: record.id, stepId: step.id, roundId: round!.id }}
    />,
    {},
    {
      shelf: {
        record: { value: record },
        edit: async (_id: string, _name: string, change: (record: InstrumentRecord) => InstrumentRecord) => {
          record = change(record);
        },
      },
    },
  );
  const choose = (label: string, value: string) =>
    act(() => {
      const { htmlFor } = [...page.querySelectorAll('label')].find(({ textContent }) => textContent === label)!;
      const select = page.querySelector<HTMLSelectElement>(`[id="${htmlFor}"]`)!;
      select.value = value;
      select.dispatchEvent(new Event('change', { bubbles: true }));
    });
  choose('Tap at', 'edge');
  const [first, second] = record.steps;
  expect(second!.rounds[0]).toMatchObject({ ...round, spot: 'edge' });
  expect(first).toEqual(story([{ modesHz: [194] }, { modesHz: [190] }]).steps[0]);
  choose('Bridge', 'off');
  expect(record.steps[1]!.rounds[0]!.support.bridge).toBe('off');
  const corrected = record.steps[1]!.rounds[0]!;
  choose('Belongs to step', first!.id);
  expect(record.steps.map(({ rounds }) => rounds.length)).toEqual([2, 0]);
  expect(record.steps[0]!.rounds).toContainEqual(corrected);
});
