// Where the frets go on this scale, and how far behind it the saddle must stand for each string.

import { useState } from 'preact/hooks';
import { type StringLoad, tuningNamed } from '../../compare/string-load.ts';
import type { BoxStrings } from '../../record/box-edit.ts';
import { fretPositionsMm, ruleOfEighteenMm, saddleSetbackMm } from '../../strings/frets.ts';
import type { StringBuild } from '../../strings/unit-mass.ts';
import { FoldedCard } from '../parts/card.tsx';
import { CheckField } from '../parts/choice-field.tsx';
import { useLength, useLengthEstimate } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { boxWords, noteName } from './words.ts';

type Load = StringLoad & { readonly kind: 'load' };

const frets = 20;

/** Strings above the 12th fret to begin with, mm. Common practice, no source. */
const usualAction = { first: 2, last: 2.5 };

/** Young's modulus of what carries the pull, GPa. From memory: steel 200, nylon about 4. */
const modulusGpa = { steel: 200, nylon: 4 } as const;

export function Frets(props: { readonly strings: BoxStrings; readonly load: Load | undefined }) {
  const t = boxWords().frets;
  const length = useLength(3, 0);
  const place = useLength(3, 2);
  const { strings, load } = props;
  const [old, setOld] = useState(false);
  const places = (old ? ruleOfEighteenMm : fretPositionsMm)(strings.scaleMm, frets);
  return (
    <FoldedCard title={t.title}>
      <CheckField label={t.eighteen} hint={t.eighteenHint} value={old} onChange={setOld} />
      <Table
        label={t.tableLabel}
        class="moves"
        head={[t.fret, t.fromNut, t.fromBefore]}
        rows={places.map((at, i) => [i + 1, place(at), place(at - (places[i - 1] ?? 0))])}
      />
      <h3>{t.saddle(length(strings.scaleMm))}</h3>
      {load === undefined ? <p>{t.needsPull}</p> : <Setbacks strings={strings} load={load} />}
    </FoldedCard>
  );
}

function Setbacks(props: { readonly strings: BoxStrings; readonly load: Load }) {
  const { strings, load } = props;
  const t = boxWords().frets;
  const length = useLengthEstimate();
  const own = useLength(3, 1);
  const action = strings.action12Mm ?? usualAction;
  const notes = tuningNamed(strings.tuning).openNotes;
  const count = load.set.strings.length;
  return (
    <>
      <p class="hint">
        {(strings.action12Mm === undefined ? t.usualAction : t.notedAction)(own(action.first), own(action.last))}
      </p>
      <ul>
        {load.set.strings.map((build, i) => {
          const carrier = carrierOf(build);
          return (
            <li key={i}>
              {i + 1}. {noteName(notes[i]!)}:{' '}
              {carrier === undefined
                ? t.notToSay
                : length(
                    saddleSetbackMm({
                      scaleMm: strings.scaleMm,
                      action12Mm: action.first + ((action.last - action.first) * i) / Math.max(1, count - 1),
                      tensionN: load.tension.eachN[i]!.value,
                      ...carrier,
                    }),
                  )}
            </li>
          );
        })}
      </ul>
      <p class="hint">{t.setbackHint}</p>
    </>
  );
}

/** What carries a string's pull and bends: all of a plain one, the core of a wound one. */
function carrierOf(build: StringBuild): { readonly coreDiameterMm: number; readonly eGpa: number } | undefined {
  if (build.kind === 'weighed') return undefined;
  const material = build.kind === 'plain' ? build.material : build.core;
  return {
    coreDiameterMm: 1000 * (build.kind === 'plain' ? build.diameterM : build.coreDiameterM),
    eGpa: material === 'nylon' ? modulusGpa.nylon : modulusGpa.steel,
  };
}
