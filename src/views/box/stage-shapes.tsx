// What the shapes of the drawn top say of the names after a stage: carried where one shape stands out, asked where not.

import { CLEAR_LIKENESS, type StageShapes } from '../../forecast/stage-shapes.ts';
import type { Stage } from '../../record/record.ts';
import { number, withHalfWidth } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { stageWords } from '../words/codes.ts';
import { boxWords } from './words.ts';

export function StageShapesSaid(props: {
  readonly shapes: StageShapes;
  readonly name: string;
  readonly nameAfter: string | undefined;
  readonly from: Stage;
  readonly to: Stage;
}) {
  const { shapes, name, nameAfter, from, to } = props;
  const t = boxWords().shapes;
  const mode = shapes.modes.find((known) => known.name === name);
  return (
    <>
      {mode === undefined ? (
        <p class="note">{t.noMode(name, from)}</p>
      ) : nameAfter === undefined ? (
        <p class="note">{t.undecided(name, mode.after.name, number(100 * mode.likeness, 0))}</p>
      ) : (
        <p class="lead">
          {nameAfter === mode.after.name
            ? t.becomes(name, nameAfter, number(100 * mode.likeness, 0))
            : t.becomesByAir(name, nameAfter, number(100 * mode.likeness, 0), number(100 * shapes.pumping.share, 0))}
        </p>
      )}
      <details>
        <summary>{t.all(from, to)}</summary>
        <Table
          label={t.tableLabel}
          class="moves"
          head={[stageWords[from], t.mostAlike, t.alike, t.name]}
          rows={shapes.modes.map(({ name: before, frequencyHz, after, likeness, verdict }) => [
            t.modeAt(before, withHalfWidth(frequencyHz, 'Hz')),
            t.modeAt(after.name, withHalfWidth(after.frequencyHz, 'Hz')),
            <>{number(100 * likeness, 0)} %</>,
            verdict === 'clear' ? t.carried : t.asked,
          ])}
        />
        <p class="hint">
          {shapes.orderChanges && `${t.orderChanges} `}
          {t.hint(number(100 * CLEAR_LIKENESS, 0))}
        </p>
      </details>
    </>
  );
}
