// What the rounds say: which peak behaves like which part, what the parts are by themselves, what contradicts what, and
// what moves in each mode.
import type { BoxFound, PlateFound } from '../../box/inverse.ts';
import { type Box, boxModes, pistonSystem } from '../../box/pistons.ts';
import type { WhichPart } from '../../box/which-part.ts';
import type { StateRound } from '../../compare/box-evidence.ts';
import type { BoxReading } from '../../compare/box-reading.ts';
import { type Estimate, scaled } from '../../quantity/estimate.ts';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useMassEstimate } from '../parts/own-units.ts';
import { ModeDrawing } from './box-drawing.tsx';
import type { BoxPartProps } from './part.ts';
import { NoBoxYet } from './step.tsx';
import { boxWords, partWords } from './words.ts';

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
      {found?.kind === 'contradicted' && (
        <section class="card contradictions">
          <h2>{t.contradicted}</h2>
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
        </section>
      )}
      {found?.kind === 'not-measurable' && (
        <section class="card">
          <h2>{t.notMeasurable}</h2>
          <p class="note">{codes.notMeasurable(found, solvedRounds)}</p>
        </section>
      )}
      {solvedRounds.length < rounds.length && <p class="note">{t.backStillAnswers}</p>}
      {which !== undefined && <WhichPeak which={which} />}
      {found?.kind === 'solved' && <Parts found={found} reading={reading} />}
      {model !== null && <Modes model={model} rounds={rounds} />}
    </>
  );
}

function WhichPeak(props: { readonly which: WhichPart }) {
  const { found: t, codes } = boxWords();
  const { verdicts, unused } = props.which;
  return (
    <section class="card" aria-label={t.which}>
      <h2>{t.which}</h2>
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
    </section>
  );
}

function Parts(props: { readonly found: Solved; readonly reading: BoxReading }) {
  const { found, reading } = props;
  const t = boxWords().found;
  const { back } = found;
  return (
    <section class="card" aria-label={t.parts}>
      <h2>{t.parts}</h2>
      {found.labels === 'swapped' && (
        <p class="stop" role="alert">
          {t.swapped}
        </p>
      )}
      {found.labels === 'not-told' && back !== 'held' && <p class="note">{t.notTold}</p>}
      <section class="scroll" tabIndex={0} aria-label={t.partsTable}>
        <table class="moves">
          <thead>
            <tr>
              <th scope="col">{t.part}</th>
              <th scope="col">{t.aloneOnAir}</th>
              <th scope="col">{t.withoutAir}</th>
              <th scope="col">{t.effectiveMass}</th>
              <th scope="col">{t.stiffness}</th>
              <th scope="col">{t.area}</th>
            </tr>
          </thead>
          <tbody>
            <PlateRow name={t.top} plate={found.top} missing={t.topMissing} />
            {back !== 'held' && <PlateRow name={t.back} plate={back} missing={t.backMissing} />}
            <tr>
              <th scope="row">{t.air}</th>
              <td>{withHalfWidth(found.airHz, 'Hz')}</td>
              <td colSpan={4}>{t.airHow}</td>
            </tr>
          </tbody>
        </table>
      </section>
      <p class="hint">{t.partsHint}</p>
      <Checks found={found} reading={reading} />
    </section>
  );
}

function PlateRow(props: { readonly name: string; readonly plate: PlateFound; readonly missing: string }) {
  const mass = useMassEstimate();
  const { uncoupledHz, vacuoHz, effective } = props.plate;
  return (
    <tr>
      <th scope="row">{props.name}</th>
      <td>{withHalfWidth(uncoupledHz, 'Hz')}</td>
      <td>{withHalfWidth(vacuoHz, 'Hz')}</td>
      {effective === null ? (
        <td colSpan={3}>{props.missing}</td>
      ) : (
        <>
          <td>{mass(scaled(effective.massKg, 1000))}</td>
          <td>{withHalfWidth(scaled(effective.stiffnessNPerM, 1e-3), 'N/mm')}</td>
          <td>{withHalfWidth(scaled(effective.areaM2, 1e4), 'cm²')}</td>
        </>
      )}
    </tr>
  );
}

function Checks(props: { readonly found: Solved; readonly reading: BoxReading }) {
  const t = boxWords().found;
  const { misfit, worst, sumRule } = props.found;
  const { solvedRounds, cavity } = props.reading;
  const strained = misfit.degreesOfFreedom > 0 && misfit.chiSquared > 4 * misfit.degreesOfFreedom;
  return (
    <>
      {sumRule === null ? (
        <p class="hint">{t.noSumRule}</p>
      ) : (
        <p class={sumRule.labelsDoubtful ? 'stop' : 'hint'}>
          {t.sumRule(
            withHalfWidth(sumRule.impliedHoleHz, 'Hz'),
            cavity.kind === 'cavity' ? withHalfWidth(cavity.ownHz, 'Hz') : undefined,
            sumRule.labelsDoubtful,
            withHalfWidth(scaled(sumRule.residualHz2, 1e-3), ''),
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

function Modes(props: { readonly model: Box; readonly rounds: readonly StateRound[] }) {
  const { model } = props;
  const { found: t, codes } = boxWords();
  const { parts: names, areaM2 } = pistonSystem(model);
  const open = props.rounds.find(({ state }) => state === 'open')?.peaks.filter(({ label }) => label !== 'other');
  return (
    <section class="card" aria-label={t.modes}>
      <h2>{t.modes}</h2>
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
    </section>
  );
}
