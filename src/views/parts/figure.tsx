// A figure on the page: its value with its ± and its unit, large enough to be read across the workshop, or one of a list.
import type { ComponentChildren } from 'preact';
import type { Estimate } from '../../quantity/estimate.ts';
import { parts } from './figures.ts';
import './figure.css';

/** A figure to be read from two metres. */
export function LargeFigure(props: {
  readonly figure: Estimate;
  readonly unit: string;
  readonly mostDecimals?: number;
}) {
  const { value, halfWidth } = parts(props.figure, props.mostDecimals);
  return (
    <p class="figure-value">
      <span class="figure-number">{value}</span>
      <span class="figure-unit">
        {props.unit}
        <br />±{halfWidth}
      </span>
    </p>
  );
}

/** Terms and what they are, side by side. What is `undefined` is left out. */
export function Facts(props: {
  readonly class?: string;
  readonly of: readonly (readonly [term: string, fact: ComponentChildren] | undefined)[];
}) {
  return (
    <dl class={props.class ?? 'stand-figures'}>
      {props.of.map(
        (line) =>
          line !== undefined && (
            <div key={line[0]}>
              <dt>{line[0]}</dt>
              <dd>{line[1]}</dd>
            </div>
          ),
      )}
    </dl>
  );
}
