// The three modes of the solved box, drawn.
import { type Box, boxModes, pistonSystem } from '../../box/pistons.ts';
import type { StateRound } from '../../compare/box-evidence.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { Card } from '../parts/card.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { ModeDrawing } from './box-drawing.tsx';
import { boxWords, partWords } from './words.ts';

export function FoundModes(props: { readonly model: Box; readonly rounds: readonly StateRound[] }) {
  const { model } = props;
  const { found: t, codes } = boxWords();
  const { parts: names, areaM2 } = pistonSystem(model);
  const open = props.rounds.find(({ state }) => state === 'open')?.peaks.filter(({ label }) => label !== 'other');
  return (
    <Card title={t.modes} label={t.modes}>
      <ul class="mode-drawings">
        {boxModes(model).map(({ frequencyHz, shape, energyShare }, i) => {
          const pushed = Object.fromEntries(names.map((part, k) => [part, shape[part]! * areaM2[k]!]));
          const read: Estimate | undefined = open?.[i]?.frequencyHz;
          const mode = codes.modes[i]!;
          const name = open?.[i] === undefined ? mode : t.modeOf(mode, partWords[open[i].label]);
          const shares = names.map((part) => t.share(part, number(100 * energyShare[part]!, 0)));
          return (
            <li key={frequencyHz}>
              <h3>{name}</h3>
              <p class="which-hz">{read === undefined ? t.about(number(frequencyHz, 0)) : withHalfWidth(read, 'Hz')}</p>
              <ModeDrawing pushed={pushed} text={t.drawing(mode, shares)} />
              <p class="hint">{t.motion(shares)}</p>
            </li>
          );
        })}
      </ul>
      <p class="hint">{t.arrowHint}</p>
    </Card>
  );
}
