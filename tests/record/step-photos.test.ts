// Photographs of a step: those of older records and those added since are one list, and each is carried with the record.
import { expect, test } from 'vitest';
import { photoIds } from '../../src/record/archive.ts';
import { begun, changeStep } from '../../src/record/edit.ts';
import { newRecord } from '../../src/record/record.ts';
import { stepPhotos, withPhotos } from '../../src/record/step-photos.ts';

const record = begun(
  newRecord({ id: 'r', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'n', begunWith: 'old-guitar' }),
  's',
);
const crack = { photoId: 'b', of: 'crack beside the hole' };

test('the photograph of an older record comes first, and goes on when others are added', () => {
  const old = changeStep(record, 's', (step) => ({ ...step, photoId: 'a' }));
  expect(stepPhotos(old.steps[0]!)).toEqual([{ photoId: 'a', of: '' }]);
  const more = changeStep(old, 's', (step) => withPhotos(step, [...stepPhotos(step), crack]));
  expect(stepPhotos(more.steps[0]!)).toEqual([{ photoId: 'a', of: '' }, crack]);
  expect(photoIds(more)).toEqual(['a', 'b']);
});

test('a step whose photographs are taken out is as it was before any', () => {
  const one = changeStep(record, 's', (step) => withPhotos(step, [crack]));
  expect(changeStep(one, 's', (step) => withPhotos(step, []))).toEqual(record);
});
