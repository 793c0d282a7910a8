// What to aim for in one mode: the figure to work by, what it rests on, and what the new drawing gives.
import type { AimRow } from '../../compare/aim-sources.ts';
import { withHalfWidth } from '../parts/figures.ts';
import { boxWords } from './words.ts';

export function AimCell({ row }: { readonly row: AimRow }) {
  const t = boxWords().sheet;
  const { sources, agreeing, workHz, damage, newDrawnHz } = row;
  const [only] = sources;
  const why = damage === 'unasked' ? t.unasked : damage.length > 0 ? t.damaged(damage) : undefined;
  return (
    <>
      {workHz !== undefined && withHalfWidth(workHz, 'Hz')}
      {workHz === undefined && (sources.length > 1 ? t.atOdds : row.staysWithBody ? t.backStays : t.nothingSays)}
      {only !== undefined && sources.length === 1 && only.source !== 'reading' && (
        <div class="hint">{t.source(only.source)}</div>
      )}
      {sources.length > 1 &&
        sources.map(({ source, aimHz }) => (
          <div key={source} class="hint">
            {t.from(source, withHalfWidth(aimHz, 'Hz'), agreeing.includes(source))}
          </div>
        ))}
      {newDrawnHz !== undefined && <div class="hint">{t.newDrawn(withHalfWidth(newDrawnHz, 'Hz'))}</div>}
      {why !== undefined && workHz !== undefined && <div class="hint">{why}</div>}
    </>
  );
}
