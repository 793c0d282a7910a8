// The spectra of several instruments over one another.
import { useEffect, useState } from 'preact/hooks';
import type { LibraryEntry } from '../../../compare/library.ts';
import { sameSupport, soundRounds } from '../../../compare/signature.ts';
import type { Round } from '../../../record/record.ts';
import { Button } from '../../parts/actions.tsx';
import { LazyChart } from '../../parts/lazy-chart.tsx';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';

export function SideSpectra(props: { readonly entries: readonly LibraryEntry[] }) {
  const { peek } = useWorkshop();
  const t = words.ownLibrary;
  const [wanted, setWanted] = useState(false);
  const [rounds, setRounds] = useState<readonly (readonly Round[])[] | undefined>(undefined);
  useEffect(() => {
    if (!wanted) return undefined;
    let gone = false;
    const read = async () => {
      const found = await Promise.all(
        props.entries.map(async (entry) => {
          const record = await peek(entry.recordId);
          const step = record?.steps.findLast((known) => known.stage === entry.stage && known.atIso === entry.atIso);
          return step === undefined
            ? []
            : soundRounds(step).filter((round) => sameSupport(round.support, entry.support));
        }),
      );
      if (!gone) setRounds(found);
    };
    void read();
    return () => {
      gone = true;
    };
  }, [wanted]);
  if (!wanted)
    return (
      <p>
        <Button text={t.spectra} onPress={() => setWanted(true)} /> <span class="hint">{t.spectraHint}</span>
      </p>
    );
  if (rounds === undefined)
    return (
      <div class="chart" role="status">
        {t.reading1}
      </div>
    );
  return <Overlay entries={props.entries} rounds={rounds} />;
}

function Overlay(props: { readonly entries: readonly LibraryEntry[]; readonly rounds: readonly (readonly Round[])[] }) {
  const { spectra } = useWorkshop();
  const t = words.ownLibrary;
  const states = props.entries.map((entry, i) => ({ entry, state: spectra.of(props.rounds[i] ?? []).value }));
  if (states.some(({ state }) => state.kind === 'loading'))
    return (
      <div class="chart" role="status">
        {t.reading1}
      </div>
    );
  const silent = states.filter(({ state }) => state.kind === 'no-sound').map(({ entry }) => entry.name);
  const highest = Math.max(...props.entries.flatMap((entry) => [...entry.modes.values()].map((hz) => hz.value)));
  const toHz = Math.max(400, 100 * Math.ceil((1.3 * highest) / 100));
  const series = states.flatMap(({ entry, state }) => {
    if (state.kind !== 'spectrum') return [];
    const { frequencyHz, levelDb } = state.spectrum;
    const points: { x: number; y: number }[] = [];
    frequencyHz.forEach((x, i) => {
      if (x >= 40 && x <= toHz) points.push({ x, y: levelDb[i]! });
    });
    return [{ label: entry.name, bare: true, points }];
  });
  return (
    <>
      {silent.length > 0 && <p class="hint">{t.noSound(silent.join(', '))}</p>}
      {series.length > 0 && (
        <LazyChart
          title={t.spectraTitle}
          xLabel={t.at}
          yLabel={t.levelAxis}
          series={series}
          xRange={[40, toHz]}
          yRange={[-60, 0]}
        />
      )}
    </>
  );
}
