// The frame around every view: where you are, what is saved, undo, and what the page has to say.
import { useEffect } from 'preact/hooks';
import { hashOf, type View } from '../app/place.ts';
import type { Workshop } from '../app/workshop.ts';
import { BenchView } from './bench-view.tsx';
import { BoxView } from './box-view.tsx';
import { ForecastView } from './forecast-view.tsx';
import { KeepReminder } from './keep-reminder.tsx';
import { PlanView } from './plan-view.tsx';
import { RecordView } from './record-view.tsx';
import { SettingsView } from './settings-view.tsx';
import { StepsView } from './steps-view.tsx';
import { WoodView } from './wood-view.tsx';
import { noticeWords } from './words.ts';
import { useWorkshop, WorkshopContext } from './workshop-context.ts';

const viewWords: Readonly<Record<View, string>> = {
  bench: 'Bench',
  steps: 'Steps',
  wood: 'Wood',
  box: 'Box',
  plan: 'Plan',
  forecast: 'Forecast',
  record: 'Record',
  settings: 'Settings',
};

export function AppView(props: { readonly workshop: Workshop }) {
  return (
    <WorkshopContext.Provider value={props.workshop}>
      <Frame />
    </WorkshopContext.Provider>
  );
}

function Frame() {
  const { place, preferences } = useWorkshop();
  const { theme } = preferences.settings.value;
  useEffect(() => {
    document.documentElement.dataset['theme'] = theme;
  }, [theme]);
  useUndoKeys();
  const view = place.view.value;
  return (
    <>
      <a class="skip" href="#main">
        To the content
      </a>
      <header class="top">
        <Brand />
        <nav aria-label="Views">
          {(Object.keys(viewWords) as View[]).map((known) => (
            <a key={known} href={hashOf(known)} aria-current={known === view ? 'page' : undefined}>
              {viewWords[known]}
            </a>
          ))}
        </nav>
        <SaveAndUndo />
      </header>
      <NoticeBar />
      <main id="main" tabIndex={-1}>
        {view === 'bench' && <BenchView />}
        {view === 'steps' && <StepsView />}
        {view === 'wood' && <WoodView />}
        {view === 'box' && <BoxView />}
        {view === 'plan' && <PlanView />}
        {view === 'forecast' && <ForecastView />}
        {view === 'record' && <RecordView />}
        {view === 'settings' && <SettingsView />}
      </main>
    </>
  );
}

function Brand() {
  const record = useWorkshop().shelf.record.value;
  return (
    <p class="brand">
      <span>Platewright</span>
      {record !== undefined && <strong>{record.name}</strong>}
    </p>
  );
}

function SaveAndUndo() {
  const { shelf } = useWorkshop();
  const undo = shelf.undoLabel.value;
  const redo = shelf.redoLabel.value;
  return (
    <div class="save">
      <span class={`saving ${shelf.saving.value}`} role="status">
        {{ saved: 'Saved', saving: 'Saving …', 'not-saved': 'Not saved' }[shelf.saving.value]}
      </span>
      <button
        type="button"
        class="quiet"
        disabled={undo === undefined}
        title={undo === undefined ? '' : `Undo: ${undo}`}
        onClick={() => void shelf.undo()}
      >
        Undo
      </button>
      <button
        type="button"
        class="quiet"
        disabled={redo === undefined}
        title={redo === undefined ? '' : `Redo: ${redo}`}
        onClick={() => void shelf.redo()}
      >
        Redo
      </button>
    </div>
  );
}

/** Offers a newer version, but not while taps are being taken. */
function UpdateOffer() {
  const { updates, bench } = useWorkshop();
  const state = bench.state.value.kind;
  if (!updates.ready.value || (state !== 'idle' && state !== 'answer')) return null;
  return (
    <p class="notice">
      A newer version lies ready.
      <button type="button" class="quiet" onClick={() => updates.take()}>
        Start it
      </button>
    </p>
  );
}

function NoticeBar() {
  const { notices } = useWorkshop();
  const notice = notices.current.value;
  const words = notice === undefined ? undefined : noticeWords(notice);
  return (
    <div class="notices" role={words?.urgent ? 'alert' : 'status'}>
      {words !== undefined && (
        <p class={words.urgent ? 'notice urgent' : 'notice'}>
          {words.text}
          <button type="button" class="quiet" onClick={() => notices.dismiss()}>
            Close
          </button>
        </p>
      )}
      <KeepReminder />
      <UpdateOffer />
    </div>
  );
}

/** Ctrl or Cmd with Z undoes, with Shift as well it does again; inside a text field the field's own undo goes first. */
function useUndoKeys(): void {
  const { shelf } = useWorkshop();
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() !== 'z' || !(event.ctrlKey || event.metaKey)) return;
      if (event.target instanceof HTMLElement && event.target.closest('input, textarea')) return;
      event.preventDefault();
      void (event.shiftKey ? shelf.redo() : shelf.undo());
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, []);
}
