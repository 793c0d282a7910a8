// The air at a measurement: what the hygrometer shows, with its offset, and the temperature.
import type { EditName } from '../../app/edits.ts';
import { withField } from '../../record/edit.ts';
import type { ClimateNote } from '../../record/record.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { number, signedNumber } from './figures.ts';
import { NumberField } from './number-field.tsx';

/** A tenth where there is one; what adding the offset leaves behind it is none. */
const decimalsOf = (percent: number): number => (Math.abs(percent - Math.round(percent)) < 0.05 ? 0 : 1);

export function ClimateFields(props: {
  readonly climate: ClimateNote;
  readonly onChange: (editName: EditName, climate: ClimateNote) => void;
}) {
  const { climate } = props;
  const { hygrometer, hygrometerOffsetPercent } = useWorkshop().preferences.settings.value;
  const offset = climate.hygrometerOffsetPercent ?? hygrometerOffsetPercent;
  const reading = climate.humidityPercent === undefined ? undefined : climate.humidityPercent - offset;
  return (
    <>
      <NumberField
        of="hygrometer"
        hint={
          offset === 0
            ? undefined
            : words.steps.trueHumidity(
                climate.humidityPercent === undefined
                  ? '–'
                  : number(climate.humidityPercent, decimalsOf(climate.humidityPercent)),
                signedNumber(offset, decimalsOf(offset)),
              )
        }
        value={reading}
        onChange={(humidity) =>
          props.onChange(
            'humidity',
            humidity === undefined
              ? withField(climate, 'humidityPercent', undefined)
              : {
                  ...climate,
                  humidityPercent: Math.min(100, Math.max(0, humidity + offset)),
                  hygrometer,
                  hygrometerOffsetPercent: offset,
                },
          )
        }
      />
      <NumberField
        of="airTemperature"
        value={climate.tempC}
        onChange={(tempC) => props.onChange('temperature', withField(climate, 'tempC', tempC))}
      />
    </>
  );
}
