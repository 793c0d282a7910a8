// How thick this plate should be to equal a reference, by every way "equal" can be meant, side by side.
import { useState } from 'preact/hooks';
import { plateWoodOf, startOf } from '../compare/piece-reading.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { withField } from '../record/edit.ts';
import type { Piece } from '../record/record.ts';
import {
  CRITERIA,
  type PlateWood,
  stopLine,
  type ThicknessChoice,
  type ThicknessCriterion,
  thicknessChoices,
} from '../wood/thickness.ts';
import { ChoiceField, NumberField } from './fields.tsx';
import { LazyChart } from './lazy-chart.tsx';
import { MeasuredField } from './measured-field.tsx';
import { useLength, useLengthEstimate, useMassEstimate } from './unit-words.ts';
import { useAllPieces } from './wood-all-pieces.ts';
import { useChangePiece } from './wood-piece-form.tsx';
import { criterionWords, patternWords, speciesWord } from './wood-words.ts';
import { useWorkshop } from './workshop-context.ts';

interface Reference {
  readonly wood: PlateWood;
  readonly thicknessMm: Estimate;
}

export function Thickness(props: { readonly piece: Piece }) {
  const { piece } = props;
  const wood = plateWoodOf(piece);
  const change = useChangePiece(piece.id);
  const [reference, setReference] = useState<Reference | undefined>(undefined);
  const [lengthMm, setLength] = useState(400);
  const [widthMm, setWidth] = useState(380);
  const boardCm2 = (piece.lengthMm?.value ?? 500) * (piece.widthMm?.value ?? 200) * 0.01;
  const [areaCm2, setArea] = useState(Math.round(boardCm2));
  if (wood === undefined) return <p>Tap the board and keep its reading first: the thickness follows from it.</p>;
  const taken = (set: (value: number) => void) => (value: number | undefined) => value !== undefined && set(value);
  return (
    <>
      <ChooseReference piece={piece} onChange={setReference} />
      <div class="fields">
        <NumberField
          label="Patch along the grain"
          hint="The moving part of the top, as if clamped"
          measure="mm"
          least={50}
          most={900}
          value={lengthMm}
          onChange={taken(setLength)}
        />
        <NumberField
          label="Patch across the grain"
          measure="mm"
          least={50}
          most={900}
          value={widthMm}
          onChange={taken(setWidth)}
        />
        <NumberField
          label="Area for the mass, cm²"
          hint={`This board has ${boardCm2.toFixed(0)}`}
          measure="plain"
          least={10}
          most={5000}
          value={areaCm2}
          onChange={taken(setArea)}
        />
      </div>
      {reference === undefined ? (
        <p>Choose what it should equal.</p>
      ) : (
        <Choices choices={thicknessChoices(wood, reference, { lengthMm, widthMm }, areaCm2)} />
      )}
      <ModesAgainstThickness piece={piece} wood={wood} />
      <MeasuredField
        label="Thickness it was finished to"
        hint="Noted once it is a plate: other boards can then be held against it"
        measure="mm"
        tool="caliperMm"
        least={0.5}
        most={20}
        value={piece.finishedMm}
        onChange={(value) => change('finished thickness', (p) => withField(p, 'finishedMm', value))}
      />
    </>
  );
}

/** A former top of the records, a plate of handbook wood, or the maker's own figures. */
function ChooseReference(props: {
  readonly piece: Piece;
  readonly onChange: (reference: Reference | undefined) => void;
}) {
  const all = useAllPieces();
  const start = startOf(props.piece);
  const [source, setSource] = useState('');
  const [own, setOwn] = useState({ thicknessMm: 2.8, eLongGpa: 12, eCrossGpa: 0.9, gGpa: 0.8, densityKgM3: 420 });
  const former = all.filter(
    ({ piece }) =>
      piece.id !== props.piece.id &&
      plateWoodOf(piece) !== undefined &&
      (piece.finishedMm ?? piece.thicknessMm) !== undefined,
  );
  const exact = (value: number): Estimate => ({ value, sigma: 0 });
  const gpa = ({ value }: Estimate) => exact(value / 1e9);
  const handbook: PlateWood = {
    eLongGpa: gpa(start.eLongPa),
    eCrossGpa: gpa(start.eCrossPa),
    gGpa: gpa(start.gPa),
    densityKgM3: exact(start.densityKgM3.value),
    nuLR: start.nuLR.value,
  };
  const referenceOf = (chosen: string, figures: typeof own): Reference | undefined => {
    if (chosen === 'handbook') return { wood: handbook, thicknessMm: exact(figures.thicknessMm) };
    if (chosen === 'own')
      return {
        wood: {
          eLongGpa: exact(figures.eLongGpa),
          eCrossGpa: exact(figures.eCrossGpa),
          gGpa: exact(figures.gGpa),
          densityKgM3: exact(figures.densityKgM3),
          nuLR: start.nuLR.value,
        },
        thicknessMm: exact(figures.thicknessMm),
      };
    const found = former.find(({ piece }) => piece.id === chosen)?.piece;
    const wood = found === undefined ? undefined : plateWoodOf(found);
    const thicknessMm = found?.finishedMm ?? found?.thicknessMm;
    return wood === undefined || thicknessMm === undefined ? undefined : { wood, thicknessMm };
  };
  const choose = (chosen: string, figures = own) => {
    setSource(chosen);
    setOwn(figures);
    props.onChange(referenceOf(chosen, figures));
  };
  const set = (key: keyof typeof own) => (value: number | undefined) =>
    value !== undefined && choose(source, { ...own, [key]: value });
  return (
    <>
      <ChoiceField
        label="It should equal"
        value={source}
        options={[
          ['', 'Choose …'],
          ...former.map(
            ({ piece, recordName }) =>
              [
                piece.id,
                `${piece.name} (${recordName}), ${piece.finishedMm === undefined ? 'as measured' : 'as finished'}`,
              ] as const,
          ),
          ['handbook', `A handbook plate: ${speciesWord(props.piece.species) || 'softwood'}`],
          ['own', 'My own target'],
        ]}
        onChange={(chosen) => choose(chosen)}
      />
      {(source === 'handbook' || source === 'own') && (
        <div class="fields">
          <NumberField
            label="Reference thickness"
            measure="mm"
            least={0.5}
            most={10}
            value={own.thicknessMm}
            onChange={set('thicknessMm')}
          />
          {source === 'own' && (
            <>
              <NumberField
                label="Its E along, GPa"
                measure="plain"
                least={1}
                most={40}
                value={own.eLongGpa}
                onChange={set('eLongGpa')}
              />
              <NumberField
                label="Its E across, GPa"
                measure="plain"
                least={0.05}
                most={10}
                value={own.eCrossGpa}
                onChange={set('eCrossGpa')}
              />
              <NumberField
                label="Its G, GPa"
                measure="plain"
                least={0.05}
                most={10}
                value={own.gGpa}
                onChange={set('gGpa')}
              />
              <NumberField
                label="Its density, kg/m³"
                measure="plain"
                least={100}
                most={1300}
                value={own.densityKgM3}
                onChange={set('densityKgM3')}
              />
            </>
          )}
        </div>
      )}
    </>
  );
}

function Choices(props: { readonly choices: readonly ThicknessChoice[] }) {
  const length = useLengthEstimate();
  const mm = useLength();
  const mass = useMassEstimate();
  const { sandingMm } = useWorkshop().preferences.settings.value;
  const [criterion, setCriterion] = useState<ThicknessCriterion>('patch-stiffness');
  const sorted = props.choices.map((choice) => choice.thicknessMm.value).toSorted((a, b) => a - b);
  const chosen = props.choices.find((choice) => choice.criterion === criterion) ?? props.choices[0]!;
  const stop = stopLine(chosen.thicknessMm, sandingMm);
  return (
    <>
      <section class="scroll" tabIndex={0} aria-label="Thickness by each criterion">
        <table>
          <thead>
            <tr>
              <th>To have</th>
              <th>Thickness</th>
              <th>Mass</th>
              <th>Against the thinnest</th>
            </tr>
          </thead>
          <tbody>
            {props.choices.map((choice) => (
              <tr key={choice.criterion}>
                <th scope="row">
                  {criterionWords[choice.criterion].name}
                  <span class="hint block">{criterionWords[choice.criterion].hint}</span>
                </th>
                <td>{length(choice.thicknessMm)}</td>
                <td>{mass(choice.massG)}</td>
                <td>+{mm(choice.thicknessMm.value - sorted[0]!)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p>
        The ways of being equal lie {mm(sorted.at(-1)! - sorted[0]!)} apart. None is the right one: which stiffness you
        want to keep is yours to say.
      </p>
      <ChoiceField
        label="Thickness this plate by"
        value={criterion}
        options={CRITERIA.map((known) => [known, criterionWords[known].name] as const)}
        onChange={setCriterion}
      />
      <p class="verdict">Stop the machine at {mm(stop.stopMm)}</p>
      <p>
        That leaves {mm(sandingMm)} for sanding (your setting). Stop at {mm(stop.checkMm)} and measure again: above it
        the target is surely not passed yet. Finish adds mass and a little stiffness later; wood cannot be put back.
      </p>
    </>
  );
}

/** Thicknesses of the curve, mm. */
const curveMm = [2, 2.4, 2.8, 3.2, 3.6, 4, 4.5, 5];
/** Modes drawn: the lowest ones, each as its own curve. */
const curves = 5;

function ModesAgainstThickness(props: { readonly piece: Piece; readonly wood: PlateWood }) {
  const [asked, setAsked] = useState(false);
  return (
    <details onToggle={(event) => event.currentTarget.open && setAsked(true)}>
      <summary>Free modes of this board against its thickness</summary>
      {asked && <Curves {...props} />}
    </details>
  );
}

function Curves(props: { readonly piece: Piece; readonly wood: PlateWood }) {
  const { answers } = useWorkshop();
  const { piece, wood } = props;
  if (piece.lengthMm === undefined || piece.widthMm === undefined) return <p>Enter length and width first.</p>;
  const state = answers.of('modes-against-thickness', {
    plan: { lengthMm: piece.lengthMm.value, widthMm: piece.widthMm.value },
    wood,
    thicknessesMm: curveMm,
    shearRatios: startOf(piece).shearRatios,
  }).value;
  if (state.kind === 'working') return <p role="status">Solving the plate at {curveMm.length} thicknesses …</p>;
  if (state.kind === 'failed') return <p class="stop">The curve could not be computed ({state.message}).</p>;
  const points = state.answer;
  const named = points[0]?.modes.slice(0, curves).map((mode) => mode.pattern) ?? [];
  return (
    <LazyChart
      title="Free modes against thickness"
      xLabel="Thickness, mm"
      yLabel="Hz"
      series={named.map((pattern) => ({
        label: patternWords(pattern),
        points: points.flatMap(({ thicknessMm, modes }) => {
          const mode = modes.find((each) => each.pattern.m === pattern.m && each.pattern.n === pattern.n);
          return mode === undefined ? [] : [{ x: thicknessMm, y: mode.frequencyHz }];
        }),
      }))}
    />
  );
}
