// What can be pressed, and the row it stands in.
import type { ComponentChildren } from 'preact';
import { useSpaceBar } from './space-bar.ts';
import './actions.css';

export function Actions(props: { readonly children: ComponentChildren }) {
  return <div class="actions">{props.children}</div>;
}

/** A button: plain, the one thing to do here (`primary`), or one that stays behind the others (`quiet`). */
export function Button(props: {
  readonly text: ComponentChildren;
  readonly onPress: () => void;
  readonly kind?: 'primary' | 'quiet' | undefined;
  /** to be hit with a finger from a distance */
  readonly isBig?: boolean;
  readonly isDisabled?: boolean | undefined;
  /** whether it is the one chosen among several */
  readonly isChosen?: boolean;
  readonly title?: string;
  readonly id?: string;
  /** pressed by the space bar too, from anywhere on the page */
  readonly takesSpaceBar?: boolean;
}) {
  const isHeard = (props.takesSpaceBar ?? false) && !(props.isDisabled ?? false);
  useSpaceBar(isHeard ? props.onPress : undefined);
  const classes = [props.kind, props.isBig ? 'big' : undefined].filter((name) => name !== undefined).join(' ');
  return (
    <button
      type="button"
      id={props.id}
      class={classes === '' ? undefined : classes}
      disabled={props.isDisabled}
      aria-pressed={props.isChosen}
      title={props.title}
      onClick={props.onPress}
    >
      {props.text}
    </button>
  );
}
