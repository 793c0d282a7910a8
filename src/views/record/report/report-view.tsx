// The report of the open record on screen, as it will be printed.

import { useState } from 'preact/hooks';
import { hashOf } from '../../../app/place.ts';
import { stepPhotos } from '../../../record/step-photos.ts';
import { Actions, Button } from '../../parts/actions.tsx';
import { EmptyView } from '../../parts/card.tsx';
import { CheckField, ChoiceField } from '../../parts/choice-field.tsx';
import { day } from '../../parts/figures.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';
import { MakerReport } from './for-maker.tsx';
import { OwnerReport } from './for-owner.tsx';
import './report.css';
import './report-print.css';

type Kind = 'maker' | 'owner';

export function ReportView() {
  const { shelf, preferences, nowIso } = useWorkshop();
  const [kind, setKind] = useState<Kind>('maker');
  const [photos, setPhotos] = useState(true);
  const record = shelf.record.value;
  const t = words.report;
  if (record === undefined || record.kind !== 'instrument')
    return <EmptyView title={t.kind} text={t.none} to={hashOf('record')} toText={t.back} />;
  const { makerName } = preferences.settings.value;
  return (
    <div class="report-page">
      <div class="report-tools no-print">
        <ChoiceField
          label={t.kind}
          value={kind}
          options={[
            ['maker', t.forMaker],
            ['owner', t.forOwner],
          ]}
          onChange={setKind}
        />
        {record.steps.some((step) => stepPhotos(step).length > 0) && (
          <CheckField label={t.photos} value={photos} onChange={setPhotos} />
        )}
        <Actions>
          <Button kind="primary" text={t.print} onPress={() => window.print()} />
          <a class="button" href={hashOf('record')}>
            {t.back}
          </a>
        </Actions>
        <p class="hint">{t.paperHint}</p>
      </div>
      <article class={`report ${kind}`}>
        <header class="report-head">
          <p>
            {kind === 'maker' ? t.makerTitle : t.ownerTitle}
            {makerName !== '' && ` ${t.from(makerName)}`}
          </p>
          <h1>{record.name}</h1>
          <p class="report-faint">{t.printedOn(day(nowIso()))}</p>
        </header>
        {kind === 'maker' ? (
          <MakerReport record={record} photos={photos} />
        ) : (
          <OwnerReport record={record} photos={photos} />
        )}
      </article>
    </div>
  );
}
