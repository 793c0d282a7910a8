// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { StepSpectrum } from '../../src/views/steps/step-spectrum.tsx';
import { story } from '../compare/story.ts';
import { show } from './shown.tsx';

/** One line at 200 Hz, 40 dB over the rest. */
const frequencyHz = Float64Array.from({ length: 1000 }, (_, i) => i);
const levelDb = frequencyHz.map((hz) => (Math.abs(hz - 200) < 2 ? 0 : -40));

test('a step alone shows the spectrum of its own taps, with its modes flagged, once it is looked at', () => {
  const record = story([{ modesHz: [200, 310] }, { modesHz: [190] }]);
  const asked: unknown[] = [];
  const spectra = {
    of: (rounds: unknown) => {
      asked.push(rounds);
      return { value: { kind: 'spectrum', spectrum: { frequencyHz, levelDb } } };
    },
  };
  const page = show(<StepSpectrum record={record} step={record.steps[0]!} />, {}, { spectra });
  expect(asked).toEqual([]);
  act(() => {
    const details = page.querySelector('details')!;
    details.open = true;
    details.dispatchEvent(new Event('toggle'));
  });
  expect(asked.at(-1)).toEqual(record.steps[0]!.rounds);
  const flags = [...page.querySelectorAll('svg .trace-name, svg .trace-tick')].map(({ textContent }) => textContent);
  expect(flags.some((text) => text!.startsWith('200'))).toBe(true);
  expect(flags.some((text) => text!.startsWith('310'))).toBe(true);
  expect(flags.some((text) => text!.startsWith('190'))).toBe(false);
});
