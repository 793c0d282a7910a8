import type { ComponentChildren } from 'preact';
import './card.css';

/** A part of a view with its heading. */
export function Card(props: {
  readonly title?: ComponentChildren;
  readonly label?: string;
  readonly id?: string;
  readonly class?: string;
  readonly children: ComponentChildren;
}) {
  return (
    <section class={props.class === undefined ? 'card' : `card ${props.class}`} id={props.id} aria-label={props.label}>
      {props.title !== undefined && <h2>{props.title}</h2>}
      {props.children}
    </section>
  );
}

/** A part of a view that opens when it is asked for. */
export function FoldedCard(props: {
  readonly title: ComponentChildren;
  readonly isOpen?: boolean;
  readonly children: ComponentChildren;
}) {
  return (
    <details class="card" open={props.isOpen}>
      <summary>{props.title}</summary>
      {props.children}
    </details>
  );
}

/** A view that has nothing to show yet: why, and where to go for it. */
export function EmptyView(props: {
  readonly title: string;
  readonly text: string;
  readonly to: string;
  readonly toText: string;
  readonly children?: ComponentChildren;
}) {
  return (
    <section class="empty">
      <h1>{props.title}</h1>
      <p>{props.text}</p>
      <div class="actions">
        <a class="primary button" href={props.to}>
          {props.toText}
        </a>
        {props.children}
      </div>
    </section>
  );
}
