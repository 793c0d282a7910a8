// Something was cut and not tapped since: no further pass is proposed until it is known what this one did.
import type { Step } from '../../record/record.ts';
import { forecastWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { useStepName } from '../parts/step-name.ts';
import { TargetBand } from './band.tsx';
import { WhatElse } from './proposed.tsx';
import { useListen } from './use-listen.ts';
import { type OfSeries, trackOf } from './without-plan.tsx';

/** @param props.step the one that was cut at */
export function CutNotTapped(props: OfSeries & { readonly step: Step }) {
  const { record, conditions, targets, step } = props;
  const t = forecastWords().nextPass;
  const stepName = useStepName();
  const listen = useListen(record, conditions);
  return (
    <>
      {targets.map((target) => {
        const before = trackOf(props, target)?.points.at(-1)?.mode.frequencyHz;
        return before && <TargetBand key={target.id} target={target} now={before} />;
      })}
      <h2>{t.cutNotTapped}</h2>
      <p class="pass-cut">{stepName(record, step)}</p>
      <p>{t.tapBeforeNext}</p>
      <Actions>
        <Button kind="primary" isBig text={t.tapNow} onPress={() => listen(step.id)} />
      </Actions>
      <WhatElse record={record} plan={record.plan} conditions={conditions} isTapOffered={false} />
    </>
  );
}
