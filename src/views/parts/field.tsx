import type { ComponentChildren } from 'preact';
import './fields.css';

export interface Labelled {
  readonly label: string;
  readonly hint?: string | undefined;
}

/** The frame of every field: its label, and below it what to know or what is wrong. */
export function Field(
  props: Labelled & { readonly id: string; readonly wrong?: boolean; readonly children: ComponentChildren },
) {
  return (
    <div class={props.wrong ? 'field wrong' : 'field'}>
      <label for={props.id}>{props.label}</label>
      {props.children}
      {props.hint && (
        <p class="hint" role={props.wrong ? 'alert' : undefined}>
          {props.hint}
        </p>
      )}
    </div>
  );
}
