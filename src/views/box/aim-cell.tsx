// What to aim for in one mode: the figure to work by, what it rests on, and what the new drawing gives.
import type { AimRow } from '../../compare/aim-sources.ts';
import { withHalfWidth } from '../parts/figures.ts';
import { boxWords } from './words.ts';

export function AimCell({ row }: { readonly row: AimRow }) {
  const t = boxWords().sheet;
  const { sources, agreeing, workHz, damage, newDrawnHz } = row;
  const why = damage === 'unasked' ? t.unasked : damage.length > 0 ? t.damaged(damage) : undefined;
  const isPlain = sources.length <= 1 && sources.every(({ source }) => source === 'reading');
  return (
    <>
      {workHz !== undefined && withHalfWidth(workHz, 'Hz')}
      {workHz === undefined && (sources.length > 1 ? t.atOdds : row.staysWithBody ? t.backStays : t.nothingSays)}
      {!isPlain && (
        <ul class="hint">
          {sources.map(({ source, aimHz }) => (
            <li key={source}>
              {t.from(source, withHalfWidth(aimHz, 'Hz'), sources.length > 1 ? agreeing.includes(source) : undefined)}
            </li>
          ))}
        </ul>
      )}
      {newDrawnHz !== undefined && <p class="hint">{t.newDrawn(withHalfWidth(newDrawnHz, 'Hz'))}</p>}
      {why !== undefined && workHz !== undefined && <p class="hint">{why}</p>}
    </>
  );
}
