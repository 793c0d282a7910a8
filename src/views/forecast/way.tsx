// One way to reach the targets: what to take off where, and where that leads.
import type { StrungAnswer } from '../../forecast/strung.ts';
import type { CheckedAdvice, NamedTarget, WayPass } from '../../forecast/top-advice.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { namedCuts } from '../../record/cut-place.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Emphasised } from '../parts/emphasised.tsx';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { useLength, useLengthEstimate, useMass } from '../parts/own-units.ts';
import { useCutWords } from '../plan/words.ts';
import { turnWords } from './strung.tsx';
import { chanceWords, forecastWords } from './words.ts';

export function Way(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly way: CheckedAdvice;
  readonly names: readonly string[];
  readonly targets: readonly NamedTarget[];
  readonly strungNow: StrungAnswer | undefined;
}) {
  const { way, names, targets } = props;
  const t = forecastWords().advice;
  const mass = useMass();
  const length = useLengthEstimate();
  const [depth, cutWords] = [useLength(3), useCutWords()];
  const aims = targets.flatMap((target, i) => {
    const move = way.moves.find(({ mode }) => names[mode] === target.name);
    return move === undefined ? [] : [{ move, target, isReached: way.reached[i] === true }];
  });
  const others = way.moves.filter(
    ({ mode, move }) => !aims.some((aim) => aim.move.mode === mode) && Math.abs(move.value) > 2 * move.sigma,
  );
  return (
    <li>
      <h3>
        {t.way(
          mass(way.removedG),
          aims.map(({ move, target }) => t.lands(target.name, withHalfWidth(move.after, 'Hz'))).join(', '),
          chanceWords(way.whole.chancePast),
        )}
      </h3>
      {way.caution !== 'none' && <p class="caution">{t.caution[way.caution]}</p>}
      <ul>
        {namedCuts(props.plan, props.record.hand, way.shavings)
          .map(cutWords)
          .map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
      </ul>
      <p>{t.inAll(mass(way.removedG))}</p>
      <p>{passWords(way.next, depth)}</p>
      <ul class="way-moves">
        {aims.map(({ move, target, isReached }) => {
          const moved = t.modeMoves(target.name, signed(move.move, 'Hz'));
          const said = (isReached ? t.reaches : t.doesNotReach)(
            moved,
            withHalfWidth(move.after, 'Hz'),
            number(target.frequencyHz, 1),
            number(target.toleranceHz, 1),
          );
          return (
            <li key={move.mode}>
              <Emphasised text={said} part={moved} />
            </li>
          );
        })}
      </ul>
      {others.length > 0 && (
        <details>
          <summary>{t.movesWithIt(others.length)}</summary>
          <ul>
            {others.map(({ mode, move }) => (
              <li key={mode}>{t.modeMoves(names[mode] ?? t.unnamed(mode + 1), signed(move, 'Hz'))}</li>
            ))}
          </ul>
        </details>
      )}
      {way.strung !== undefined && (
        <p class={way.turnsTooFar ? 'stop' : 'caution'}>
          {bridgeThenWords(way.strung, props.strungNow, length)} {turnWords(way.strung.turnDeg)} {t.guide}
        </p>
      )}
    </li>
  );
}

/** Odds in hundredths. */
function passWords(next: WayPass, depth: (mm: number) => string): string {
  const t = forecastWords().advice;
  if (next.kind === 'stop') return t.noPass[next.because](chanceWords(next.now.chanceWithin));
  const { depthMm, chancePast, chanceWithin } = next.pass;
  return t.nextPass(depth(depthMm), chanceWords(chancePast), chanceWords(chanceWithin));
}

function bridgeThenWords(
  { turnDeg, riseMm }: StrungAnswer,
  now: StrungAnswer | undefined,
  length: (mm: Estimate) => string,
): string {
  const t = forecastWords().advice;
  const [turn, rise] = [withHalfWidth(turnDeg, '°'), length(riseMm)];
  return now === undefined ? t.bridgeThen(turn, rise) : t.bridgeThenAndNow(turn, withHalfWidth(now.turnDeg, '°'), rise);
}
