// A measured entry: the number and how far off it may well be, with the ruler's, caliper's or scale's own doubt offered.
import { type Estimate, HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import type { QuantityName } from '../../record/quantities.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { NumberField } from './number-field.tsx';

export type Tool = 'rulerMm' | 'caliperMm' | 'scaleG';

export function MeasuredField(props: {
  readonly label?: string;
  readonly of: QuantityName;
  readonly tool: Tool | number;
  readonly value: Estimate | undefined;
  readonly hint?: string;
  readonly onChange: (value: Estimate | undefined) => void;
}) {
  const settings = useWorkshop().preferences.settings.value;
  const { label = words.quantities[props.of], value, tool } = props;
  const offered = typeof tool === 'number' ? tool : settings[tool];
  const half = value === undefined ? offered : HALF_WIDTH_95 * value.sigma;
  return (
    <div class="measured">
      <NumberField
        label={label}
        of={props.of}
        hint={props.hint}
        value={value?.value}
        onChange={(number) =>
          props.onChange(
            number === undefined ? undefined : { value: number, sigma: value?.sigma ?? offered / HALF_WIDTH_95 },
          )
        }
      />
      <NumberField
        label={`${label} ±`}
        shortLabel="±"
        of={props.of}
        isDoubt
        least={0}
        value={Number(half.toPrecision(3))}
        onChange={(number) =>
          value !== undefined && props.onChange({ ...value, sigma: (number ?? offered) / HALF_WIDTH_95 })
        }
      />
    </div>
  );
}
