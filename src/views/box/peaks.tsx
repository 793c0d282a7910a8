// The peaks of one round, and whose each is: proposed by the program until the maker says.

import type { PeakLabel, StateRound } from '../../compare/box-evidence.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { labelPeak, unlabelRounds } from '../../record/box-edit.ts';
import { boxPeakParts } from '../../record/box-part.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { qText } from '../parts/own-units.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { boxWords, partWords } from './words.ts';

/** The record with what the maker says of a peak; of the box as it is, that names the mode of the step too. */
export function saidPeak(
  record: InstrumentRecord,
  stepId: string,
  { state, round }: StateRound,
  { frequencyHz: { value }, label }: { readonly frequencyHz: Estimate; readonly label: PeakLabel },
  newId: () => string,
): InstrumentRecord {
  // kept under the frequency as it was read, so that reading again finds it
  const note = { id: newId(), roundId: round.id, frequencyHz: value, part: label };
  const pin =
    state === 'open' && label !== 'other' ? { id: newId(), stepId, mode: label, frequencyHz: value } : undefined;
  return labelPeak(record, note, pin);
}

export function BoxPeaks(props: { readonly step: Step; readonly taken: StateRound }) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const t = boxWords().peaks;
  const { step, taken } = props;
  const { round, peaks } = taken;
  const fitted = round.fit!.modes;
  const say = (at: number, part: PeakLabel) =>
    editRecord('peak-part', (record) =>
      saidPeak(record, step.id, taken, { frequencyHz: peaks[at]!.frequencyHz, label: part }, newId),
    );
  if (fitted.length === 0) return <p class="stop">{t.noneClear}</p>;
  if (peaks.length === 0) return <p class="stop">{t.noneHere}</p>;
  const allSaid = peaks.every(({ isConfirmed, label }) => isConfirmed || label === 'other');
  return (
    <>
      <ul class="peaks" aria-label={t.label}>
        {peaks.map((peak, i) => {
          const id = `peak-${round.id}-${i}`;
          return (
            <li key={peak.frequencyHz.value} class={peak.label}>
              <span class="peak-hz">{withHalfWidth(peak.frequencyHz, 'Hz')}</span>
              <span class="hint">
                {qText(peak.q)}, {number(peak.levelDb, 0)} dB
              </span>
              <label for={id}>{peak.isConfirmed ? t.youSay : t.proposed}</label>
              <select id={id} value={peak.label} onChange={(event) => say(i, event.currentTarget.value as PeakLabel)}>
                {boxPeakParts.map((part) => (
                  <option key={part} value={part}>
                    {partWords[part]}
                  </option>
                ))}
              </select>
            </li>
          );
        })}
      </ul>
      <Actions>
        {!allSaid && (
          <Button
            text={t.right}
            onPress={() =>
              peaks.forEach((peak, i) => {
                if (peak.label !== 'other') say(i, peak.label);
              })
            }
          />
        )}
        {peaks.some(({ isConfirmed }) => isConfirmed) && (
          <Button
            kind="quiet"
            text={t.letPropose}
            onPress={() => editRecord('peak-parts', (record) => unlabelRounds(record, [round.id]))}
          />
        )}
      </Actions>
    </>
  );
}
