// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { Button } from '../../src/views/parts/actions.tsx';
import { show } from './shown.tsx';

const pressSpace = (on: EventTarget) =>
  act(() => {
    on.dispatchEvent(new KeyboardEvent('keydown', { key: ' ', bubbles: true }));
  });

test.each([
  ['from anywhere on the page', {}, true, 1],
  ['not while the button cannot be pressed', { isDisabled: true }, true, 0],
  ['not for another button', { takesSpaceBar: false }, true, 0],
  ['not where the maker does not want it', {}, false, 0],
])('the space bar presses its button, %s', (_what, given, spaceBar, times) => {
  let pressed = 0;
  const page = show(
    <>
      <input />
      <Button text="Listen" takesSpaceBar onPress={() => pressed++} {...given} />
    </>,
    { spaceBar },
  );
  pressSpace(page);
  expect(pressed).toBe(times);
  // There it is needed to type.
  pressSpace(page.querySelector('input')!);
  expect(pressed).toBe(times);
});
