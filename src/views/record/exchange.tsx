// The way into the browser: archives, and the demo.

import { useRef } from 'preact/hooks';
import { Actions, Button } from '../parts/actions.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { ImportPanel } from './import.tsx';

export function RecordExchange() {
  const { shelf, imports, openDemo } = useWorkshop();
  const file = useRef<HTMLInputElement>(null);
  return (
    <section class="card" aria-labelledby="exchange-heading">
      <h2 id="exchange-heading">{words.record.bringIn}</h2>
      <Actions>
        <Button text={words.record.importFiles} onPress={() => file.current?.click()} />
        {!shelf.summaries.value.some((summary) => summary.id === 'demo-instrument') && (
          <Button text={words.record.demo} onPress={() => void openDemo()} />
        )}
        <input
          ref={file}
          id="import"
          class="visually-hidden"
          type="file"
          multiple
          accept=".zip,application/zip,.uff,.unv"
          aria-label={words.record.importLabel}
          onChange={(event) => {
            void imports.look([...(event.currentTarget.files ?? [])]);
            event.currentTarget.value = '';
          }}
        />
      </Actions>
      <ImportPanel />
    </section>
  );
}
