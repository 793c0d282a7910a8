// Rounds that were not taken as they are noted, and what was probably done instead.
import type { BoxDoubt } from '../../compare/box-doubts.ts';
import { scaled } from '../../quantity/estimate.ts';
import { withHalfWidth } from '../parts/figures.ts';
import { useMassEstimate, usePistonUnits } from '../parts/own-units.ts';
import { boxWords } from './words.ts';

export function BoxDoubts(props: { readonly doubts: readonly BoxDoubt[] }) {
  const mass = useMassEstimate();
  const { area } = usePistonUnits();
  const t = boxWords().doubts;
  const said = (doubt: BoxDoubt): string => {
    switch (doubt.kind) {
      case 'hole-not-blocked':
        return t.holeNotBlocked(withHalfWidth(doubt.airHz, 'Hz'));
      case 'holes-exchanged':
        return t.holesExchanged;
      case 'air-not-by-ruler':
        return t.airNotByRuler(doubt.state, withHalfWidth(doubt.calledHz, 'Hz'), withHalfWidth(doubt.ownHz, 'Hz'));
      case 'back-not-held':
        return t.backNotHeld;
      case 'lump-misweighed':
        return t.lump[doubt.looks](mass(scaled(doubt.massKg, 1000)), area(doubt.areaM2));
    }
  };
  return (
    <>
      {props.doubts.map((doubt) => (
        <p key={`${doubt.kind} ${'roundId' in doubt ? doubt.roundId : ''}`} class="stop" role="alert">
          {said(doubt)}
        </p>
      ))}
    </>
  );
}
