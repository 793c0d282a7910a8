// The way into the browser: archives, and the demo.
import { useRef } from 'preact/hooks';
import { ImportPanel } from './record-import.tsx';
import { useWorkshop } from './workshop-context.ts';

export function RecordExchange() {
  const { shelf, imports, openDemo } = useWorkshop();
  const file = useRef<HTMLInputElement>(null);
  return (
    <section class="card" aria-labelledby="exchange-heading">
      <h2 id="exchange-heading">Bring records in</h2>
      <div class="actions">
        <button type="button" onClick={() => file.current?.click()}>
          Import archives …
        </button>
        {!shelf.summaries.value.some((summary) => summary.id === 'demo-instrument') && (
          <button type="button" onClick={() => void openDemo()}>
            Put the demo instrument on the shelf
          </button>
        )}
        <input
          ref={file}
          id="import"
          class="visually-hidden"
          type="file"
          multiple
          accept=".zip,application/zip"
          aria-label="Archive to import"
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
