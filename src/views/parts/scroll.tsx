import type { ComponentChildren } from 'preact';

/** A part that may be wider than the screen; the arrow keys move it once it has the focus. */
export function Scroll(props: { readonly label: string; readonly children: ComponentChildren }) {
  return (
    <section class="scroll" tabIndex={0} aria-label={props.label}>
      {props.children}
    </section>
  );
}
