// How thick the new wood must be to do as the old top did, and what each choice gives.

import { topRatios } from '../../box/replacement.ts';
import { oldWoodNow, type TopMatch } from '../../compare/old-signature.ts';
import { estimate } from '../../quantity/estimate.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { matchWishes } from '../../record/box-part.ts';
import { LargeFigure } from '../parts/figure.tsx';
import { useLength, useLengthEstimate, useOwnLength } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { words } from '../words/language.ts';
import { percentOf } from './sheet.tsx';
import { boxWords } from './words.ts';

export function NewThickness(props: { readonly repair: BoxRepair; readonly match: TopMatch }) {
  const { repair, match } = props;
  const t = boxWords().newTop;
  const { unit, own } = useOwnLength();
  const length = useLength(3);
  const measured = useLengthEstimate();
  if (match.kind === 'missing')
    return (
      <section class="stand no-print" aria-label={words.quantities.topThickness}>
        <p class="verdict cannot-say">{t.measureFirst(match.needs)}</p>
      </section>
    );
  const aimed = match.thicknessMm[repair.matchBy];
  const old = oldWoodNow(repair)!;
  return (
    <section class="stand no-print" aria-label={words.quantities.topThickness}>
      <h2>{t.thicknessOf}</h2>
      <LargeFigure figure={own(aimed)} unit={unit} />
      <p>{t.equalBy(repair.matchBy)}</p>
      <Table
        label={t.givesLabel}
        class="moves"
        head={[t.toEqual, words.quantities.topThickness, t.stiffnessAlong, t.stiffnessAcross, t.areaMass]}
        rows={[
          ...matchWishes.map((wish) => {
            const fresh = estimate(match.thicknessMm[wish].value, 0);
            return [
              t.matches[wish],
              measured(match.thicknessMm[wish]),
              ...shares(topRatios(old.wood, old.thicknessMm, old.fresh, fresh)),
            ];
          }),
          ...(repair.newThicknessMm === undefined
            ? []
            : [[t.yourChoice, length(repair.newThicknessMm), ...shares(match.ratios)]]),
        ]}
      />
      <p class="hint">{t.givesHint}</p>
    </section>
  );
}

const shares = ({ along, across, arealMass }: (TopMatch & { readonly kind: 'match' })['ratios']): readonly string[] =>
  [along, across, arealMass].map(percentOf);
