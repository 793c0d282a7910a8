// What a mode is expected to do at the next stage by the program's own models, beside what earlier instruments did.
import { cavityOf } from '../../compare/box-cavity.ts';
import { closedByModels } from '../../forecast/before-gluing.ts';
import type { StageShapes } from '../../forecast/stage-shapes.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { InstrumentRecord, Stage } from '../../record/record.ts';
import { LargeFigure } from '../parts/figure.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { boxWords } from './words.ts';

interface ByModelsProps {
  readonly record: InstrumentRecord;
  readonly shapes: StageShapes;
  readonly name: string;
  readonly to: Stage;
  /** nothing else says it: the figure is shown large */
  readonly isFirst: boolean;
}

const hz = (figure: Estimate): string => withHalfWidth(figure, 'Hz');

export function ByModels(props: ByModelsProps) {
  const t = boxWords().byModels;
  if (props.to === 'strung') return null;
  return (
    <>
      {props.to === 'closed' ? <InTheBox {...props} /> : <InTheOpen {...props} />}
      <p class="hint">{t.rests(props.shapes.fittedTo)}</p>
    </>
  );
}

function InTheOpen({ shapes, name, isFirst }: ByModelsProps) {
  const mode = shapes.modes.find((known) => known.name === name);
  if (mode?.verdict !== 'clear') return null;
  const { frequencyHz } = mode.after;
  return (
    <>
      {isFirst && <LargeFigure figure={frequencyHz} unit="Hz" />}
      <p class={isFirst ? 'lead' : 'note'}>{boxWords().byModels.open(hz(frequencyHz))}</p>
    </>
  );
}

function InTheBox({ record, shapes, isFirst }: ByModelsProps) {
  const t = boxWords().byModels;
  const said = closedByModels(shapes, cavityOf(record.box?.cavity, record.steps.at(-1)?.climate));
  if (said.kind === 'sizes-missing')
    return (
      <p class="note">
        {t.alone(hz(said.aloneHz))} {t.needSizes} <a href="#/box/air">{t.toSizes}</a>
      </p>
    );
  return (
    <>
      {isFirst && <LargeFigure figure={said.topHz} unit="Hz" />}
      <p class={isFirst ? 'lead' : 'note'}>{t.closed(hz(said.topHz), hz(said.airHz))}</p>
      <p class="hint">{t.closedHint(hz(said.aloneHz))}</p>
    </>
  );
}
