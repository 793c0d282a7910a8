// The frame around every view: where you are, what is saved, undo, and what the page has to say.

import { Fragment, type FunctionComponent } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { hashOf, type View } from '../app/place.ts';
import type { Workshop } from '../app/workshop.ts';
import { BenchView } from './bench/bench-view.tsx';
import { KeepReminder } from './keep-reminder.tsx';
import { LazyView } from './lazy-view.tsx';
import { NextThingLine } from './next-thing.tsx';
import { Button } from './parts/actions.tsx';
import { noticeWords } from './words/codes.ts';
import { speak, words } from './words/language.ts';
import { useWorkshop, WorkshopContext } from './workshop-context.ts';
import './app-view.css';

/** The bench is part of the first load; the others are fetched when they are opened. */
const lazyViews: Readonly<Record<Exclude<View, 'bench'>, () => Promise<FunctionComponent>>> = {
  steps: async () => (await import('./steps/steps-view.tsx')).StepsView,
  wood: async () => (await import('./wood/wood-view.tsx')).WoodView,
  box: async () => (await import('./box/box-view.tsx')).BoxView,
  plan: async () => (await import('./plan/plan-view.tsx')).PlanView,
  forecast: async () => (await import('./forecast/forecast-view.tsx')).ForecastView,
  record: async () => (await import('./record/record-view.tsx')).RecordView,
  settings: async () => (await import('./settings/settings-view.tsx')).SettingsView,
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
  const { theme, language } = preferences.settings.value;
  const spoken = useLanguage(language);
  useTheme(theme);
  useUndoKeys();
  const view = place.view.value;
  return (
    <Fragment key={spoken}>
      <a class="skip" href="#main">
        {words.shell.toContent}
      </a>
      <header class="top">
        <Brand />
        <nav aria-label={words.shell.viewsLabel}>
          {(Object.keys(words.shell.views) as View[]).map((known) => (
            <a key={known} href={hashOf(known)} aria-current={known === view ? 'page' : undefined}>
              {words.shell.views[known]}
            </a>
          ))}
        </nav>
        <SaveAndUndo />
      </header>
      <NoticeBar />
      <main id="main" tabIndex={-1}>
        <NextThingLine />
        {view === 'bench' ? <BenchView /> : <LazyView key={view} load={lazyViews[view]} />}
      </main>
    </Fragment>
  );
}

/** Light or dark, as chosen or as the system has it now. */
function useTheme(chosen: 'system' | 'light' | 'dark'): void {
  useEffect(() => {
    const system = matchMedia('(prefers-color-scheme: dark)');
    const apply = () => {
      const dark = chosen === 'dark' || (chosen === 'system' && system.matches);
      document.documentElement.dataset['theme'] = dark ? 'dark' : 'light';
    };
    apply();
    system.addEventListener('change', apply);
    return () => system.removeEventListener('change', apply);
  }, [chosen]);
}

/** Speaks the language chosen. @returns the one spoken now, which everything is rendered anew with */
function useLanguage(chosen: string): string {
  const [spoken, setSpoken] = useState('en');
  useEffect(() => {
    void speak(chosen).then((tag) => {
      document.documentElement.lang = tag;
      setSpoken(tag);
    });
  }, [chosen]);
  return spoken;
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
  const undo = shelf.toUndo.value;
  const redo = shelf.toRedo.value;
  return (
    <div class="save">
      <span class={`saving ${shelf.saving.value}`} role="status">
        {
          { saved: words.shell.saved, saving: words.shell.saving, 'not-saved': words.shell.notSaved }[
            shelf.saving.value
          ]
        }
      </span>
      <Button
        kind="quiet"
        text={words.shell.undo}
        isDisabled={undo === undefined}
        title={undo === undefined ? '' : words.shell.undoWhat(words.edits[undo])}
        onPress={() => void shelf.undo()}
      />
      <Button
        kind="quiet"
        text={words.shell.redo}
        isDisabled={redo === undefined}
        title={redo === undefined ? '' : words.shell.redoWhat(words.edits[redo])}
        onPress={() => void shelf.redo()}
      />
    </div>
  );
}

/** Offers a newer version, but not while taps are being taken. */
function UpdateOffer() {
  const { updates, bench, shapes } = useWorkshop();
  const state = bench.state.value.kind;
  if (!updates.ready.value || (state !== 'idle' && state !== 'answer') || shapes.isRoving) return null;
  return (
    <p class="notice">
      <span>{words.shell.newerVersion}</span>
      <Button kind="quiet" text={words.shell.startIt} onPress={() => updates.take()} />
    </p>
  );
}

function NoticeBar() {
  const { notices } = useWorkshop();
  const notice = notices.current.value;
  const said = notice === undefined ? undefined : noticeWords(notice);
  return (
    <div class="notices" role={said?.urgent ? 'alert' : 'status'}>
      {said !== undefined && (
        <p class={said.urgent ? 'notice urgent' : 'notice'}>
          <span>{said.text}</span>
          <Button kind="quiet" text={words.shell.close} onPress={() => notices.dismiss()} />
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
