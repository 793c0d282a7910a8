// The way into the browser: archives, and the demo.
import { useRef } from 'preact/hooks';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { ImportPanel } from './import.tsx';

export function RecordExchange() {
  const { shelf, imports, openDemo } = useWorkshop();
  const file = useRef<HTMLInputElement>(null);
  return (
    <section class="card" aria-labelledby="exchange-heading">
      <h2 id="exchange-heading">{words.record.bringIn}</h2>
      <div class="actions">
        <button type="button" onClick={() => file.current?.click()}>
          {words.record.importFiles}
        </button>
        {!shelf.summaries.value.some((summary) => summary.id === 'demo-instrument') && (
          <button type="button" onClick={() => void openDemo()}>
            {words.record.demo}
          </button>
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
      </div>
      <ImportPanel />
    </section>
  );
}
