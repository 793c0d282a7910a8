// What the rounds say: which peak behaves like which part, what the parts are by themselves, what contradicts what, and
// what moves in each mode.
import type { BoxFound, PlateFound } from '../box/inverse.ts';
import { type Box, boxModes, pistonSystem } from '../box/pistons.ts';
import type { WhichPart } from '../box/which-part.ts';
import type { StateRound } from '../compare/box-evidence.ts';
import type { BoxReading } from '../compare/box-reading.ts';
import { type Estimate, scaled } from '../quantity/estimate.ts';
import { ModeDrawing } from './box-drawing.tsx';
import type { BoxPartProps } from './box-part.ts';
import { NoBoxYet } from './box-step.tsx';
import {
  contradictionWords,
  evidenceWords,
  modeWords,
  notMeasurableWords,
  partAlone,
  partWords,
  stateWords,
  unusedWords,
  verdictWords,
} from './box-words.ts';
import { number, parts, withHalfWidth } from './figures.ts';

type Solved = BoxFound & { readonly kind: 'solved' };

export function BoxFoundPart({ step, reading }: BoxPartProps) {
  if (step === undefined || reading === undefined)
    return (
      <>
        <h1>What moves</h1>
        <NoBoxYet />
      </>
    );
  const { found, which, rounds, solvedRounds, cavity, model } = reading;
  return (
    <>
      <h1>What moves</h1>
      {rounds.length === 0 && (
        <p class="lead">
          No round has been taken on this box. <a href="#/box/rounds">Take the first one</a>: the box as it is.
        </p>
      )}
      {rounds.length > 0 && cavity.kind !== 'cavity' && (
        <p class="note">
          Masses and areas need the air volume. <a href="#/box/air">Give the sizes of the box</a> first.
        </p>
      )}
      {found?.kind === 'contradicted' && (
        <section class="card contradictions">
          <h2>These measurements contradict one another</h2>
          <ul>
            {found.contradictions.map((one) => (
              <li key={`${one.because} ${one.peak.round} ${one.peak.part}`} class="stop" role="alert">
                {contradictionWords(one, solvedRounds)}
              </li>
            ))}
          </ul>
          <p>
            Nothing is concluded until they agree. <a href="#/box/rounds">Look at the rounds</a>.
          </p>
        </section>
      )}
      {found?.kind === 'not-measurable' && (
        <section class="card">
          <h2>Not measurable here yet</h2>
          <p class="note">{notMeasurableWords(found, solvedRounds)}</p>
        </section>
      )}
      {solvedRounds.length < rounds.length && (
        <p class="note">
          In “{stateWords['back-damped']}” the back still answers, so that round only tells which peak is the back’s.
          Pressed flat against you the back stops, and the round tells more.
        </p>
      )}
      {which !== undefined && <WhichPeak which={which} />}
      {found?.kind === 'solved' && <Parts found={found} reading={reading} />}
      {model !== null && <Modes model={model} rounds={rounds} />}
    </>
  );
}

function WhichPeak(props: { readonly which: WhichPart }) {
  const { verdicts, unused } = props.which;
  return (
    <section class="card" aria-label="Which peak is which">
      <h2>Which peak is which</h2>
      <ul class="which">
        {verdicts.map((verdict) => {
          const hz = parts(verdict.frequencyHz, 1);
          return (
            <li key={verdict.frequencyHz.value}>
              <p class="which-verdict">
                <span class="which-hz">{hz.value} Hz</span> {verdictWords(verdict)}.
              </p>
              {verdict.labelDenied && (
                <p class="stop" role="alert">
                  You call it otherwise. What was done to the box says it is not so; look at the names in the rounds.
                </p>
              )}
              {verdict.evidence.length === 0 ? (
                <p class="hint">No round has touched it yet.</p>
              ) : (
                <ul class="hint">
                  {verdict.evidence.map((one) => (
                    <li key={one.doing}>{evidenceWords(one)}</li>
                  ))}
                </ul>
              )}
            </li>
          );
        })}
      </ul>
      {unused.map((one) => (
        <p key={one.doing} class="note">
          {unusedWords(one)}
        </p>
      ))}
    </section>
  );
}

function Parts(props: { readonly found: Solved; readonly reading: BoxReading }) {
  const { found, reading } = props;
  const { back } = found;
  return (
    <section class="card" aria-label="The parts by themselves">
      <h2>The parts by themselves</h2>
      {found.labels === 'swapped' && (
        <p class="stop" role="alert">
          The peak called top belongs to the back, and the other way round: the mass at the bridge moved the other one.
        </p>
      )}
      {found.labels === 'not-told' && back !== 'held' && (
        <p class="note">
          Nothing tells yet which of the two upper peaks is the top’s: the round with the mass says it, unless both
          share both.
        </p>
      )}
      <section class="scroll" tabIndex={0} aria-label="Table of the parts">
        <table class="moves">
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col">Alone on the air</th>
              <th scope="col">Without the air</th>
              <th scope="col">Effective mass</th>
              <th scope="col">Stiffness</th>
              <th scope="col">Area</th>
            </tr>
          </thead>
          <tbody>
            <PlateRow name="Top" plate={found.top} missing="needs the round with the mass at the bridge" />
            {back !== 'held' && (
              <PlateRow
                name="Back"
                plate={back}
                missing="not measurable here: needs the round with the mass on the back"
              />
            )}
            <tr>
              <th scope="row">Air</th>
              <td>{withHalfWidth(found.airHz, 'Hz')}</td>
              <td colSpan={4}>in a box whose walls do not move</td>
            </tr>
          </tbody>
        </table>
      </section>
      <p class="hint">
        {partAlone.top}; {partAlone.back.toLowerCase()}; {partAlone.air.toLowerCase()}. ± is the 95 % interval.
      </p>
      <Checks found={found} reading={reading} />
    </section>
  );
}

function PlateRow(props: { readonly name: string; readonly plate: PlateFound; readonly missing: string }) {
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
          <td>{withHalfWidth(scaled(effective.massKg, 1000), 'g')}</td>
          <td>{withHalfWidth(scaled(effective.stiffnessNPerM, 1e-3), 'N/mm')}</td>
          <td>{withHalfWidth(scaled(effective.areaM2, 1e4), 'cm²')}</td>
        </>
      )}
    </tr>
  );
}

function Checks(props: { readonly found: Solved; readonly reading: BoxReading }) {
  const { misfit, worst, sumRule } = props.found;
  const { solvedRounds, cavity } = props.reading;
  const strained = misfit.degreesOfFreedom > 0 && misfit.chiSquared > 4 * misfit.degreesOfFreedom;
  return (
    <>
      {sumRule === null ? (
        <p class="hint">
          The sum rule, which checks the names, needs the rounds with the hole open and blocked, every peak named.
        </p>
      ) : (
        <p class={sumRule.labelsDoubtful ? 'stop' : 'hint'}>
          Sum rule: by the peaks the air alone would be at {withHalfWidth(sumRule.impliedHoleHz, 'Hz')}
          {cavity.kind === 'cavity' && `, by the ruler at ${withHalfWidth(cavity.ownHz, 'Hz')}`}.{' '}
          {sumRule.labelsDoubtful
            ? 'They disagree: a peak is misnamed or left out, or the sizes are wrong.'
            : 'They agree, so the names hold together.'}{' '}
          Left over: {withHalfWidth(scaled(sumRule.residualHz2, 1e-3), 'thousand Hz²')}.
        </p>
      )}
      {strained && (
        <p class="note">
          Three pistons describe this box only roughly; every ± is widened for it. Worst is the {partWords[worst.part]}{' '}
          peak at {withHalfWidth(worst.frequencyHz, 'Hz')} in “{stateWords[solvedRounds[worst.round]!.state]}”, off by{' '}
          {number(Math.abs(worst.sigmas), 1)} standard deviations.
        </p>
      )}
    </>
  );
}

function Modes(props: { readonly model: Box; readonly rounds: readonly StateRound[] }) {
  const { model } = props;
  const { parts: names, areaM2 } = pistonSystem(model);
  const open = props.rounds.find(({ state }) => state === 'open')?.peaks.filter(({ label }) => label !== 'other');
  return (
    <section class="card" aria-label="What moves in each mode">
      <h2>What moves in each mode</h2>
      <ul class="mode-drawings">
        {boxModes(model).map(({ frequencyHz, shape, energyShare }, i) => {
          const pushed = Object.fromEntries(names.map((part, k) => [part, shape[part]! * areaM2[k]!]));
          const read: Estimate | undefined = open?.[i]?.frequencyHz;
          const name = open?.[i] === undefined ? modeWords[i]! : `${modeWords[i]}, ${partWords[open[i].label]}`;
          const shares = names.map((part) => `${partWords[part]} ${number(100 * energyShare[part]!, 0)} %`).join(', ');
          return (
            <li key={frequencyHz}>
              <h3>{name}</h3>
              <p class="which-hz">
                {read === undefined ? `about ${number(frequencyHz, 0)} Hz` : withHalfWidth(read, 'Hz')}
              </p>
              <ModeDrawing pushed={pushed} text={`${modeWords[i]}: motion shared as ${shares}`} />
              <p class="hint">Motion: {shares}</p>
            </li>
          );
        })}
      </ul>
      <p class="hint">
        An arrow’s length is how much air that part pushes, at the same moment; arrows out of the box swell it, arrows
        into it press it.
      </p>
    </section>
  );
}
