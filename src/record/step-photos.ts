// The photographs of a step, however old its record.
import { withField } from './edit.ts';
import type { Step } from './record.ts';

export type StepPhoto = NonNullable<Step['photos']>[number];

/** All photographs of a step with what they show, oldest first. */
export const stepPhotos = ({ photoId, photos = [] }: Pick<Step, 'photoId' | 'photos'>): readonly StepPhoto[] =>
  photoId === undefined ? photos : [{ photoId, of: '' }, ...photos];

/** The step with these photographs and no others. */
export const withPhotos = (step: Step, photos: readonly StepPhoto[]): Step =>
  withField(withField(step, 'photoId', undefined), 'photos', photos.length === 0 ? undefined : photos);
