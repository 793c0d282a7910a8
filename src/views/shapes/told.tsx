// The shapes of a roving round: how drawing and piece agree, each mode's picture beside the computed one, names, and tables.
import { useState } from 'preact/hooks';
import type { TapShape, TapShapes } from '../../forecast/tap-shapes.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useWorkshop } from '../workshop-context.ts';
import { LikenessTable, SpotsTable } from './likeness.tsx';
import { NamesByShape } from './names.tsx';
import { ShapePictures } from './pictures.tsx';
import { SaveShapes } from './save.tsx';
import { spotNumbers } from './spot-words.ts';
import type { Told } from './told-round.ts';
import { useSetting } from './use-setting.ts';
import { useShapes } from './use-shapes.ts';
import { shapesWords } from './words.ts';

export function ShapesTold(props: Told & { readonly tapIds: readonly string[] }) {
  const { answer } = props;
  const t = shapesWords();
  const [chosen, setChosen] = useState(0);
  const rank = Math.min(chosen, answer.shapes.length - 1);
  return (
    <>
      <Agreement answer={answer} />
      <WhatIsAmiss {...props} />
      <section class="shapes-told" aria-label={t.modes}>
        <ol class="forecast-modes">
          {answer.shapes.map((shape, k) => (
            <li key={k}>
              <Button
                text={
                  <>
                    <span class="forecast-hz">{withHalfWidth(shape.frequencyHz, 'Hz')}</span>{' '}
                    <span>{shapeTitle(answer, shape)}</span>
                  </>
                }
                isChosen={k === rank}
                onPress={() => setChosen(k)}
              />
            </li>
          ))}
        </ol>
        <ShapePictures {...props} rank={rank} />
      </section>
      <NamesByShape {...props} />
      <LikenessTable answer={answer} />
      <SpotsTable answer={answer} />
      <SaveShapes {...props} />
    </>
  );
}

/** Which computed mode a shape is, and how like it. */
function shapeTitle({ computed }: TapShapes, { whole }: TapShape): string {
  const t = shapesWords();
  if (whole === undefined) return computed.length === 0 ? '' : t.noName;
  return `${computed[whole.computed]!.name}, ${t.likeness(number(whole.likeness, 2))}`;
}

/** From this likeness on two shapes are taken for the same. Common practice in modal testing is 0.9; no source. */
const SAME_LIKENESS = 0.9;

/** How drawing and piece agree by shape. */
function Agreement({ answer }: { readonly answer: TapShapes }) {
  const t = shapesWords();
  if (answer.isDrawingOfNoUse) return <p class="note">{t.noDrawingUse}</p>;
  if (answer.computed.length === 0) return null;
  const told = answer.shapes.flatMap(({ whole, frequencyHz }) => (whole === undefined ? [] : [{ whole, frequencyHz }]));
  const others = told.filter(({ whole }) => whole.likeness < SAME_LIKENESS);
  const named = others
    .map(({ whole, frequencyHz }) => `${answer.computed[whole.computed]!.name} (${withHalfWidth(frequencyHz, 'Hz')})`)
    .join(', ');
  return (
    <Card>
      <p class="verdict-line">
        {told.length === 0
          ? t.said.none
          : others.length === 0
            ? t.said.allAlike(told.length)
            : t.said.someOther(told.length - others.length, told.length, named)}
      </p>
      <p class="hint">{t.said.caution}</p>
    </Card>
  );
}

/** Spots not tapped, and taps that are better made again. */
function WhatIsAmiss(props: Told & { readonly tapIds: readonly string[] }) {
  const { bench } = useWorkshop();
  const { roving } = useShapes();
  const { record, step, round, answer, tapIds } = props;
  const t = shapesWords();
  const setting = useSetting(record, step, '16');
  const spotOf = new Map(round.taps.map(({ id, rovingSpot }) => [id, rovingSpot]));
  const odd = [...new Set(answer.oddTaps.flatMap((i) => spotOf.get(tapIds[i]!) ?? []))].toSorted((a, b) => a - b);
  const isBusy = roving.state.value.kind !== 'idle' || bench.listening.value;
  const isNow = record.steps.at(-1) === step;
  const toTap = [...new Set([...odd, ...answer.missingSpots])];
  return (
    <>
      {odd.length > 0 && <p class="note">{t.odd(spotNumbers(odd))}</p>}
      {answer.missingSpots.length > 0 && <p class="hint">{t.missing(spotNumbers(answer.missingSpots))}</p>}
      {isNow && setting !== undefined && toTap.length > 0 && (
        <p>
          {toTap.slice(0, 6).map((spot) => (
            <Button
              key={spot}
              kind="quiet"
              text={t.tapAgain(spot + 1)}
              isDisabled={isBusy}
              onPress={() => void roving.resume(setting, round, spot)}
            />
          ))}
        </p>
      )}
    </>
  );
}
