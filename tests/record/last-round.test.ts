import { expect, test } from 'vitest';
import { demoInstrument } from '../../src/demo/demo-record.ts';
import { newRecord } from '../../src/record/record.ts';
import { lastRound } from '../../src/record/round-edit.ts';

const fit = { method: 'test', modes: [], used: [], setAside: [], scatterKnown: true };

test('the last round is the last that was read and not set aside, whatever steps came after it', () => {
  expect(lastRound(newRecord({ id: 'a', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'New' }))).toBeUndefined();
  const known = ['06-finger-braces-buzz', '05-tone-bars', '01-plate'];
  const demo = demoInstrument(new Map(known.map((file) => [file, { sampleRateHz: 16_000, taps: [], fit }])));
  // The buzz was set aside by its maker, and the later steps are not read here.
  expect(lastRound(demo)).toMatchObject({
    id: 'demo-round-05-tone-bars',
    support: { hold: 'in-mould', bridge: 'taped' },
  });
});
