import type { FunctionComponent } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { words } from '../words/language.ts';
import type { ChartProps } from './chart.tsx';

let loaded: FunctionComponent<ChartProps> | undefined;

/** A chart whose code is fetched when the first one is shown: the bench works without it. */
export function LazyChart(props: ChartProps) {
  const [ready, setReady] = useState(loaded !== undefined);
  useEffect(() => {
    let gone = false;
    const load = async () => {
      loaded ??= (await import('./chart.tsx')).LineChart;
      if (!gone) setReady(true);
    };
    void load();
    return () => {
      gone = true;
    };
  }, []);
  const Loaded = ready ? loaded : undefined;
  return Loaded === undefined ? (
    <div class="chart" role="status">
      {words.shell.drawing}
    </div>
  ) : (
    <Loaded {...props} />
  );
}
