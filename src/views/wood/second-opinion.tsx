// Without a microphone: deflection under a load beside the tapped stiffness, and the plate's thickness point by point.

import { type Estimate, HALF_WIDTH_95, scaled } from '../../quantity/estimate.ts';
import { gToKg, kgfToN } from '../../quantity/units.ts';
import { withField } from '../../record/edit.ts';
import type { Piece } from '../../record/record.ts';
import { agreementOf, readDeflection } from '../../wood/deflection.ts';
import { mapThickness } from '../../wood/thickness-map.ts';
import { Button } from '../parts/actions.tsx';
import { signed, withHalfWidth } from '../parts/figures.ts';
import { MeasuredField } from '../parts/measured-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useLength, useLengthEstimate, useRoundLength } from '../parts/own-units.ts';
import { useWorkshop } from '../workshop-context.ts';
import { useChangePiece } from './piece-form.tsx';
import { woodWords } from './words.ts';

type Direction = Piece['deflections'][number]['id'];

export function SecondOpinion(props: { readonly piece: Piece }) {
  return (
    <>
      <p>{woodWords().second.lead}</p>
      <Deflection piece={props.piece} direction="along" />
      <Deflection piece={props.piece} direction="across" />
    </>
  );
}

const testIn = (piece: Piece, direction: Direction): Piece['deflections'][number] =>
  piece.deflections.find((known) => known.id === direction) ?? { id: direction };

function Deflection(props: { readonly piece: Piece; readonly direction: Direction }) {
  const { piece, direction } = props;
  const change = useChangePiece(piece.id);
  const t = woodWords().second;
  const test = testIn(piece, direction);
  const set = (key: 'spanMm' | 'loadG' | 'deflectionMm') => (value: { value: number; sigma: number } | undefined) =>
    change('deflection', (p) => ({
      ...p,
      deflections: [
        ...p.deflections.filter((known) => known.id !== direction),
        withField(testIn(p, direction), key, value),
      ],
    }));
  return (
    <fieldset>
      <legend>{t.directions[direction]}</legend>
      <div class="fields wide">
        <MeasuredField of="span" tool="rulerMm" value={test.spanMm} onChange={set('spanMm')} />
        <MeasuredField of="testLoad" tool="scaleG" value={test.loadG} onChange={set('loadG')} />
        <MeasuredField of="deflection" tool={0.02} value={test.deflectionMm} onChange={set('deflectionMm')} />
      </div>
      <DeflectionResult piece={piece} test={test} />
    </fieldset>
  );
}

function DeflectionResult(props: { readonly piece: Piece; readonly test: Piece['deflections'][number] }) {
  const { piece, test } = props;
  const { second: t, codes } = woodWords();
  const isAlong = test.id === 'along';
  const widthMm = isAlong ? piece.widthMm : piece.lengthMm;
  const { spanMm, loadG, deflectionMm } = test;
  if (!spanMm || !loadG || !deflectionMm || !widthMm || !piece.thicknessMm) return null;
  const reading = readDeflection({
    spanMm,
    deflectionMm,
    widthMm,
    thicknessMm: piece.thicknessMm,
    loadN: scaled(loadG, kgfToN(gToKg(1))),
  });
  const tapped = isAlong ? piece.reading?.eLongGpa : piece.reading?.eCrossGpa;
  const beside = tapped === undefined ? undefined : agreementOf(tapped, reading.modulusGpa);
  const worst = reading.contributions[0]?.input;
  return (
    <>
      <p>
        {codes.deflectionRead(
          withHalfWidth(reading.modulusGpa, 'GPa'),
          withHalfWidth(reading.perWidthNm, 'N m'),
          worst,
        )}
      </p>
      {tapped !== undefined && beside !== undefined && (
        <p class={beside.word === 'agree' ? undefined : 'note'} role={beside.word === 'disagree' ? 'alert' : undefined}>
          {t.tapped(withHalfWidth(tapped, 'GPa'), beside.word)}
        </p>
      )}
    </>
  );
}

/** What a modulus would be read off by, with its sign. */
const asFlat = (high: Estimate) => signed(scaled(high, 100), '%');

/** Where the caliper goes: five places along, three across, a hand's breadth from the edge. */
const alongShares = [0.1, 0.3, 0.5, 0.7, 0.9];
const acrossShares = [0.85, 0.5, 0.15];

export function ThicknessMapOf(props: { readonly piece: Piece }) {
  const { newId, preferences } = useWorkshop();
  const { piece } = props;
  const change = useChangePiece(piece.id);
  const t = woodWords().second;
  const [mm, length] = [useLength(3), useLengthEstimate()];
  const over = useRoundLength()(100, 4);
  if (piece.lengthMm === undefined || piece.widthMm === undefined) return <p>{t.sizesFirst}</p>;
  const boardLength = piece.lengthMm.value;
  const boardWidth = piece.widthMm.value;
  const caliperSigma = piece.thicknessMm?.sigma ?? preferences.settings.value.caliperMm / HALF_WIDTH_95;
  const map = mapThickness(piece.caliper, { lengthMm: boardLength, widthMm: boardWidth }, caliperSigma);
  const near = (xMm: number, yMm: number) =>
    piece.caliper.find(
      (point) => Math.abs(point.xMm - xMm) < 0.01 * boardLength && Math.abs(point.yMm - yMm) < 0.01 * boardWidth,
    );
  const set = (xMm: number, yMm: number) => (thicknessMm: number | undefined) => {
    const known = near(xMm, yMm);
    change('thickness-map', (p) => ({
      ...p,
      caliper: [
        ...p.caliper.filter((point) => point.id !== known?.id),
        ...(thicknessMm === undefined ? [] : [{ id: known?.id ?? newId(), xMm, yMm, thicknessMm }]),
      ],
    }));
  };
  return (
    <>
      <p>{t.ninePoints}</p>
      <div class="caliper-map">
        {acrossShares.flatMap((across, row) =>
          alongShares.map((along, column) => (
            <NumberField
              key={`${along} ${across}`}
              label={t.place(row + 1, column + 1)}
              of="thicknessAt"
              value={near(along * boardLength, across * boardWidth)?.thicknessMm}
              onChange={set(along * boardLength, across * boardWidth)}
            />
          )),
        )}
      </div>
      {map.kind === 'too-few-points' ? (
        <p class="hint">{t.points(piece.caliper.length, map.need)}</p>
      ) : (
        <>
          <p>
            {t.map({
              mean: length(map.meanMm),
              spread: mm(map.spreadMm),
              thinnest: mm(map.thinnest.thicknessMm),
              thickest: mm(map.thickest.thicknessMm),
              taperAlong: mm(map.taperAlong * (over.mm / 100)),
              taperAcross: mm(map.taperAcross * (over.mm / 100)),
              over: over.said,
            })}
          </p>
          <p>{t.asFlat(asFlat(map.readsHigh['long-grain-bending']), asFlat(map.readsHigh['cross-grain-bending']))}</p>
          <Button
            text={t.takeMean}
            onPress={() =>
              change('thickness', (p) => ({ ...p, thicknessMm: { value: map.meanMm.value, sigma: map.meanMm.sigma } }))
            }
          />
        </>
      )}
    </>
  );
}
