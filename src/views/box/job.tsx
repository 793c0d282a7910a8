// The work on an old guitar as one list: what is in the record counts as done, the rest is ticked by hand; each line opens the
// place where it is entered. Printed, it is a sheet to tick off in the dust.

import { type JobLine, jobLines, jobParts, mayBeOpened } from '../../compare/old-guitar-job.ts';
import { keepAsOldTop, planJob, tickLine } from '../../record/job-edit.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { placeOfThing } from '../next-thing.tsx';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { moment } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import type { BoxPartProps } from './part.ts';
import { boxWords } from './words.ts';
import './job.css';

export function OldGuitarJob({ record }: BoxPartProps) {
  const editRecord = useEditRecord();
  const t = boxWords().job;
  const lines = jobLines(record);
  const left = lines.filter(({ isDone }) => !isDone).length;
  const isReady = mayBeOpened(record);
  return (
    <>
      <h1>{t.titleOf(record.name)}</h1>
      <div class="fields no-print">
        <ChoiceField
          label={words.record.planned}
          value={record.job?.planned ?? 'new-top'}
          options={choices(words.record.plannedJobs)}
          onChange={(planned) => editRecord('job', (current) => planJob(current, planned))}
        />
      </div>
      <p>{t.left(left, lines.length)}</p>
      {jobParts.map((part) => {
        const own = lines.filter((line) => line.part === part);
        if (own.length === 0) return null;
        return (
          <Card key={part} title={t.parts[part]}>
            {part === 'opening' && <p class={isReady ? 'note' : 'stop'}>{isReady ? t.openIt : t.notYet}</p>}
            <ul class="job-lines">
              {own.map((line) => (
                <Line key={line.name} record={record} line={line} />
              ))}
            </ul>
            {part === 'before' && <CautionLine about={['strings']} />}
            {part === 'opening' && <CautionLine about={['heat', 'shaving', 'dust']} />}
          </Card>
        );
      })}
      <p class="no-print">
        <Button kind="primary" text={t.print} onPress={() => window.print()} />
      </p>
    </>
  );
}

function Line(props: { readonly record: InstrumentRecord; readonly line: JobLine }) {
  const { nowIso } = useWorkshop();
  const editRecord = useEditRecord();
  const { record, line } = props;
  const t = boxWords().job;
  const { name, isDone, isTicked } = line;
  const tickedAt = record.job?.ticked.find((known) => known.line === name)?.atIso;
  const place = placeOfThing(name);
  return (
    <li class={isDone ? 'job-line done' : 'job-line'}>
      <label>
        <input
          type="checkbox"
          checked={isDone}
          disabled={isDone && !isTicked}
          onChange={(event) => {
            const atIso = event.currentTarget.checked ? nowIso() : undefined;
            editRecord('job', (current) => tickLine(current, name, atIso));
          }}
        />
        <span>{words.shell.nextThings[name]}</span>
      </label>
      <span class="job-where no-print">
        {tickedAt !== undefined && <span class="hint">{moment(tickedAt)}</span>}
        {isDone && !isTicked && <span class="hint">{t.inRecord}</span>}
        {name === 'old-braces' && record.plan !== undefined && record.box?.repair !== undefined && (
          <Button kind="quiet" text={t.keepDrawing} onPress={() => editRecord('job', keepAsOldTop)} />
        )}
        {!place.endsWith('/job') && (
          <a class="button quiet" href={place}>
            {t.enter}
          </a>
        )}
      </span>
    </li>
  );
}
