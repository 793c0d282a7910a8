import { describe, expect, test } from 'vitest';
import { hashOf, Place, views } from '../../src/app/place.ts';

describe('the address', () => {
  test('names the view and a part of it, and is read as it was written', () => {
    for (const view of views) {
      expect(new Place(hashOf(view)).view.value).toBe(view);
      expect(new Place(hashOf(view)).part.value).toBe('');
      const place = new Place(hashOf(view, 'course'));
      expect([place.view.value, place.part.value]).toEqual([view, 'course']);
    }
    expect(hashOf('steps')).toBe('#/steps');
    expect(hashOf('steps', 'course')).toBe('#/steps/course');
  });

  test('that names nothing we know is the bench', () => {
    for (const hash of ['', '#', '#/', '#/nowhere', 'steps', '#steps'])
      expect([hash, new Place(hash).view.value]).toEqual([hash, 'bench']);
  });

  test('that changes changes both, also to a view without a part', () => {
    const place = new Place('#/steps/course');
    place.read('#/wood/compare');
    expect([place.view.value, place.part.value]).toEqual(['wood', 'compare']);
    place.read('#/record');
    expect([place.view.value, place.part.value]).toEqual(['record', '']);
  });

  test('may name what of a part is looked at', () => {
    const place = new Place('#/bench/shapes/round-1');
    expect([place.part.value, place.detail.value]).toEqual(['shapes', 'round-1']);
    place.read('#/bench/shapes');
    expect([place.part.value, place.detail.value]).toEqual(['shapes', '']);
  });
});
