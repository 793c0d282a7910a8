// How thick the new wood must be to do as the old top did, and what each choice gives.
import { topRatios } from '../../box/replacement.ts';
import { oldWoodNow, type TopMatch } from '../../compare/old-signature.ts';
import { estimate } from '../../quantity/estimate.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { matchWishes } from '../../record/box-part.ts';
import { parts } from '../parts/figures.ts';
import { useLength, useLengthEstimate, useOwnLength } from '../parts/own-units.ts';
import { percentOf } from './sheet.tsx';
import { boxWords } from './words.ts';

export function Thickness(props: { readonly repair: BoxRepair; readonly match: TopMatch }) {
  const { repair, match } = props;
  const t = boxWords().newTop;
  const { unit, own } = useOwnLength();
  const length = useLength();
  const measured = useLengthEstimate();
  if (match.kind === 'missing')
    return (
      <section class="stand no-print" aria-label={t.thickness}>
        <p class="verdict cannot-say">{t.measureFirst(match.needs)}</p>
      </section>
    );
  const aimed = match.thicknessMm[repair.matchBy];
  const shown = parts(own(aimed));
  const old = oldWoodNow(repair)!;
  return (
    <section class="stand no-print" aria-label={t.thickness}>
      <h2>{t.thicknessOf}</h2>
      <p class="figure-value">
        <span class="figure-number">{shown.value}</span>
        <span class="figure-unit">
          {unit}
          <br />±{shown.halfWidth}
        </span>
      </p>
      <p>{t.equalBy(repair.matchBy)}</p>
      <section class="scroll" tabIndex={0} aria-label={t.givesLabel}>
        <table class="moves">
          <thead>
            <tr>
              <th scope="col">{t.toEqual}</th>
              <th scope="col">{t.thickness}</th>
              <th scope="col">{t.stiffnessAlong}</th>
              <th scope="col">{t.stiffnessAcross}</th>
              <th scope="col">{t.areaMass}</th>
            </tr>
          </thead>
          <tbody>
            {matchWishes.map((wish) => (
              <Row
                key={wish}
                name={t.matches[wish]}
                thickness={measured(match.thicknessMm[wish])}
                ratios={topRatios(old.wood, old.thicknessMm, old.fresh, estimate(match.thicknessMm[wish].value, 0))}
              />
            ))}
            {repair.newThicknessMm !== undefined && (
              <Row name={t.yourChoice} thickness={length(repair.newThicknessMm)} ratios={match.ratios} />
            )}
          </tbody>
        </table>
      </section>
      <p class="hint">{t.givesHint}</p>
    </section>
  );
}

function Row(props: {
  readonly name: string;
  readonly thickness: string;
  readonly ratios: (TopMatch & { readonly kind: 'match' })['ratios'];
}) {
  const { along, across, arealMass } = props.ratios;
  return (
    <tr>
      <th scope="row">{props.name}</th>
      <td>{props.thickness}</td>
      <td>{percentOf(along)}</td>
      <td>{percentOf(across)}</td>
      <td>{percentOf(arealMass)}</td>
    </tr>
  );
}
