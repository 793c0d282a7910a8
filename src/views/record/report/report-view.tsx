// The report of the open record on screen, as it will be printed.
import { useState } from 'preact/hooks';
import { hashOf } from '../../../app/place.ts';
import { CheckField, ChoiceField } from '../../parts/fields.tsx';
import { day } from '../../parts/figures.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';
import { MakerReport } from './for-maker.tsx';
import { OwnerReport } from './for-owner.tsx';

type Kind = 'maker' | 'owner';

export function ReportView() {
  const { shelf, preferences, nowIso } = useWorkshop();
  const [kind, setKind] = useState<Kind>('maker');
  const [photos, setPhotos] = useState(true);
  const record = shelf.record.value;
  const t = words.report;
  if (record === undefined || record.kind !== 'instrument')
    return (
      <section class="empty">
        <h1>{t.kind}</h1>
        <p>{t.none}</p>
        <a class="primary button" href={hashOf('record')}>
          {t.back}
        </a>
      </section>
    );
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
        {record.steps.some((step) => step.photoId !== undefined) && (
          <CheckField label={t.photos} value={photos} onChange={setPhotos} />
        )}
        <div class="actions">
          <button type="button" class="primary" onClick={() => window.print()}>
            {t.print}
          </button>
          <a class="button" href={hashOf('record')}>
            {t.back}
          </a>
        </div>
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
