// What the shapes of the drawn top say of the names after a stage: carried where one shape stands out, asked where not.
import { CLEAR_LIKENESS, type StageShapes } from '../forecast/stage-shapes.ts';
import type { Stage } from '../record/record.ts';
import { number } from './figures.ts';
import { stageWords } from './words.ts';

export function StageShapesSaid(props: {
  readonly shapes: StageShapes;
  readonly name: string;
  readonly nameAfter: string | undefined;
  readonly from: Stage;
  readonly to: Stage;
}) {
  const { shapes, name, nameAfter } = props;
  const [from, to] = [stageWords[props.from].toLowerCase(), stageWords[props.to].toLowerCase()];
  const mode = shapes.modes.find((known) => known.name === name);
  const half = number(100 * CLEAR_LIKENESS, 0);
  return (
    <>
      {mode === undefined ? (
        <p class="note">
          The drawn top has no mode called “{name}” among its lowest when {from}. Name the mode after yourself.
        </p>
      ) : nameAfter === undefined ? (
        <p class="note">
          The shapes do not tell what becomes of “{name}”: nearest comes {mode.after.name}, only{' '}
          {number(100 * mode.likeness, 0)} % alike. Name the mode after yourself.
        </p>
      ) : (
        <p class="lead">
          By its shape “{name}” becomes “{nameAfter}”: {number(100 * mode.likeness, 0)} % alike
          {nameAfter !== mode.after.name &&
            `, and of all modes on the rims it moves most air, ${number(100 * shapes.pumping.share, 0)} % of it as a piston would`}
          .
        </p>
      )}
      <details>
        <summary>
          All modes of the drawn top, {from} and {to}
        </summary>
        <section class="scroll" tabIndex={0} aria-label="Modes by their shapes">
          <table class="moves">
            <thead>
              <tr>
                <th scope="col">{stageWords[props.from]}</th>
                <th scope="col">Most alike after</th>
                <th scope="col">Alike</th>
                <th scope="col">Name</th>
              </tr>
            </thead>
            <tbody>
              {shapes.modes.map(({ name: before, frequencyHz, after, likeness, verdict }) => (
                <tr key={before}>
                  <th scope="row">
                    {before}, {number(frequencyHz, 0)} Hz
                  </th>
                  <td>
                    {after.name}, {number(after.frequencyHz, 0)} Hz
                  </td>
                  <td>{number(100 * likeness, 0)} %</td>
                  <td>{verdict === 'clear' ? 'carried' : 'asked'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
        <p class="hint">
          {shapes.orderChanges && 'Some modes change places, so their rank would name them wrongly. '}
          Frequencies are those of the drawing, with no air behind it. Alike: the modal assurance criterion, lifting and
          tilting of the whole top left out. Above {half} % no other mode can be as much alike; below it you are asked.
        </p>
      </details>
    </>
  );
}
