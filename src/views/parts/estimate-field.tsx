// A measured number typed with its ±: value and half width of the 95 % interval.
import { type Estimate, HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import { type Measure, NumberField } from './fields.tsx';

export function EstimateField(props: {
  readonly label: string;
  readonly measure: Measure;
  /** unit of a plain number */
  readonly unit?: string;
  readonly least: number;
  readonly most: number;
  /** offered half width, as a share of the value, where none was typed */
  readonly offeredDoubt: number;
  readonly value: Estimate | undefined;
  readonly onChange: (value: Estimate | undefined) => void;
}) {
  const { value, offeredDoubt } = props;
  return (
    <fieldset class="estimate-field" aria-label={props.label}>
      <NumberField
        label={props.label}
        measure={props.measure}
        unit={props.unit}
        least={props.least}
        most={props.most}
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
        measure={props.measure}
        unit={props.unit}
        least={0}
        most={props.most}
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
