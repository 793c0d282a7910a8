// What the rounds say: which peak behaves like which part, what the parts are by themselves, what contradicts what, and
// what moves in each mode.

import type { BoxFound, PlateFound } from '../../box/inverse.ts';
import type { WhichPart } from '../../box/which-part.ts';
import type { BoxReading } from '../../compare/box-reading.ts';
import { type Estimate, scaled } from '../../quantity/estimate.ts';
import { Card } from '../parts/card.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useMassEstimate, usePistonUnits } from '../parts/own-units.ts';
import { type Row, Table, wide } from '../parts/table.tsx';
import { BoxDoubts } from './doubts.tsx';
import { FoundModes } from './found-modes.tsx';
import type { BoxPartProps } from './part.ts';
import { NoBoxYet } from './step.tsx';
import { boxWords } from './words.ts';

type Solved = BoxFound & { readonly kind: 'solved' };

export function BoxFoundPart({ step, reading }: BoxPartProps) {
  const { found: t, codes } = boxWords();
  if (step === undefined || reading === undefined)
    return (
      <>
        <h1>{t.title}</h1>
        <NoBoxYet />
      </>
    );
  const { found, which, rounds, solvedRounds, cavity, model } = reading;
  return (
    <>
      <h1>{t.title}</h1>
      {rounds.length === 0 && (
        <p class="lead">
          {t.noRound} <a href="#/box/rounds">{t.takeFirst}</a>
        </p>
      )}
      {rounds.length > 0 && cavity.kind !== 'cavity' && (
        <p class="note">
          {t.noSizes} <a href="#/box/air">{t.giveSizes}</a>
        </p>
      )}
      <BoxDoubts doubts={reading.doubts} />
      {found?.kind === 'contradicted' && (
        <Card title={t.contradicted} class="contradictions">
          <ul>
            {found.contradictions.map((one) => (
              <li key={`${one.because} ${one.peak.round} ${one.peak.part}`} class="stop" role="alert">
                {codes.contradiction(one, solvedRounds)}
              </li>
            ))}
          </ul>
          <p>
            {t.nothingConcluded} <a href="#/box/rounds">{t.lookAtRounds}</a>
          </p>
        </Card>
      )}
      {found?.kind === 'not-measurable' && (
        <Card title={t.notMeasurable}>
          <p class="note">{codes.notMeasurable(found, solvedRounds)}</p>
        </Card>
      )}
      {solvedRounds.length < rounds.length && <p class="note">{t.backStillAnswers}</p>}
      {which !== undefined && <WhichPeak which={which} />}
      {found?.kind === 'solved' && <Parts found={found} reading={reading} />}
      {model !== undefined && <FoundModes model={model} rounds={rounds} />}
    </>
  );
}

function WhichPeak(props: { readonly which: WhichPart }) {
  const { found: t, codes } = boxWords();
  const { verdicts, unused } = props.which;
  return (
    <Card title={t.which} label={t.which}>
      <ul class="which">
        {verdicts.map((verdict) => (
          <li key={verdict.frequencyHz.value}>
            <p class="which-verdict">
              <span class="which-hz">{withHalfWidth(verdict.frequencyHz, 'Hz')}</span> {codes.verdict(verdict)}
            </p>
            {verdict.labelDenied && (
              <p class="stop" role="alert">
                {t.denied}
              </p>
            )}
            {verdict.evidence.length === 0 ? (
              <p class="hint">{t.untouched}</p>
            ) : (
              <ul class="hint">
                {verdict.evidence.map((one) => (
                  <li key={one.doing}>{codes.evidence(one)}</li>
                ))}
              </ul>
            )}
          </li>
        ))}
      </ul>
      {unused.map((one) => (
        <p key={one.doing} class="note">
          {codes.unused(one)}
        </p>
      ))}
    </Card>
  );
}

function Parts(props: { readonly found: Solved; readonly reading: BoxReading }) {
  const { found, reading } = props;
  const t = boxWords().found;
  const say = { mass: useMassEstimate(), ...usePistonUnits() };
  const { back } = found;
  return (
    <Card title={t.parts} label={t.parts}>
      {found.labels === 'swapped' && (
        <p class="stop" role="alert">
          {t.swapped}
        </p>
      )}
      {found.labels === 'undecided' && back !== 'held' && <p class="note">{t.undecided}</p>}
      <Table
        label={t.partsTable}
        class="moves"
        head={[t.part, t.aloneOnAir, t.withoutAir, t.effectiveMass, t.stiffness, t.area]}
        rows={[
          plateRow(t.top, found.top, t.topMissing, say),
          ...(back === 'held' ? [] : [plateRow(t.back, back, t.backMissing, say)]),
          [t.air, withHalfWidth(found.airHz, 'Hz'), wide(4, t.airHow)],
        ]}
      />
      <p class="hint">{t.partsHint}</p>
      <Checks found={found} reading={reading} />
    </Card>
  );
}

function plateRow(
  name: string,
  plate: PlateFound,
  missing: string,
  say: ReturnType<typeof usePistonUnits> & { readonly mass: (g: Estimate) => string },
): Row {
  const { uncoupledHz, vacuoHz, effective } = plate;
  return [
    name,
    withHalfWidth(uncoupledHz, 'Hz'),
    withHalfWidth(vacuoHz, 'Hz'),
    ...(effective === undefined
      ? [wide(3, missing)]
      : [
          say.mass(scaled(effective.massKg, 1000)),
          say.stiffness(effective.stiffnessNPerM),
          say.area(effective.areaM2),
        ]),
  ];
}

function Checks(props: { readonly found: Solved; readonly reading: BoxReading }) {
  const t = boxWords().found;
  const { misfit, worst, sumRule } = props.found;
  const { solvedRounds, cavity } = props.reading;
  const strained = misfit.degreesOfFreedom > 0 && misfit.chiSquared > 4 * misfit.degreesOfFreedom;
  return (
    <>
      {sumRule === undefined ? (
        <p class="hint">{t.noSumRule}</p>
      ) : (
        <p class={sumRule.labelsDoubtful ? 'stop' : 'hint'}>
          {t.sumRule(
            withHalfWidth(sumRule.impliedHoleHz, 'Hz'),
            cavity.kind === 'cavity' ? withHalfWidth(cavity.ownHz, 'Hz') : undefined,
            sumRule.labelsDoubtful,
            props.found.labels === 'confirmed',
          )}
        </p>
      )}
      {strained && (
        <p class="note">
          {t.strained(
            worst.part,
            withHalfWidth(worst.frequencyHz, 'Hz'),
            solvedRounds[worst.round]!.state,
            number(Math.abs(worst.sigmas), 1),
          )}
        </p>
      )}
    </>
  );
}
