// A measured number typed with its ±: value and half width of the 95 % interval.
import { type Estimate, HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import type { QuantityName } from '../../record/quantities.ts';
import { words } from '../words/language.ts';
import { NumberField } from './number-field.tsx';

export function EstimateField(props: {
  readonly label?: string;
  readonly of: QuantityName;
  /** offered half width, as a share of the value, where none was typed */
  readonly offeredDoubt: number;
  readonly value: Estimate | undefined;
  readonly onChange: (value: Estimate | undefined) => void;
}) {
  const { label = words.quantities[props.of], value, offeredDoubt } = props;
  return (
    <fieldset class="estimate-field" aria-label={label}>
      <NumberField
        label={label}
        of={props.of}
        value={value?.value}
        onChange={(typed) =>
          props.onChange(
            typed === undefined
              ? undefined
              : {
                  value: typed,
                  sigma:
                    value === undefined ? (offeredDoubt * typed) / HALF_WIDTH_95 : (value.sigma / value.value) * typed,
                },
          )
        }
      />
      <NumberField
        label="±"
        of={props.of}
        isDoubt
        least={0}
        value={value === undefined ? undefined : Number((value.sigma * HALF_WIDTH_95).toPrecision(2))}
        onChange={(half) =>
          value !== undefined &&
          half !== undefined &&
          props.onChange({ value: value.value, sigma: half / HALF_WIDTH_95 })
        }
      />
    </fieldset>
  );
}
