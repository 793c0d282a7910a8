// Views whose code is fetched when they are first opened: the bench is there at once and works without them.

import type { FunctionComponent } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Button } from './parts/actions.tsx';
import { words } from './words/language.ts';

type Load = () => Promise<FunctionComponent>;
type State = { readonly kind: 'loading' | 'failed' } | { readonly kind: 'ready'; readonly View: FunctionComponent };

const loaded = new Map<Load, FunctionComponent>();

const known = (load: Load): State => {
  const View = loaded.get(load);
  return View === undefined ? { kind: 'loading' } : { kind: 'ready', View };
};

/** Give it a key for each `load`, so that one view never stands in for another. */
export function LazyView(props: { readonly load: Load }) {
  const { load } = props;
  const [state, setState] = useState<State>(() => known(load));
  useEffect(() => {
    let gone = false;
    if (loaded.has(load)) return undefined;
    load().then(
      (View) => {
        loaded.set(load, View);
        if (!gone) setState({ kind: 'ready', View });
      },
      () => {
        if (!gone) setState({ kind: 'failed' });
      },
    );
    return () => {
      gone = true;
    };
  }, [load]);
  if (state.kind === 'ready') return <state.View />;
  if (state.kind === 'loading') return <p role="status">{words.shell.loadingView}</p>;
  return (
    <section class="empty" role="alert">
      <p>{words.shell.viewMissing}</p>
      <Button kind="primary" text={words.shell.loadAgain} onPress={() => location.reload()} />
    </section>
  );
}
