// The heights of a brace along its length, and its stiffness there.

import { type BraceAlong, braceAlong, type StationedBrace } from '../../brace/brace-along.ts';
import type { PlateStrip } from '../../brace/glued-strip.ts';
import { type ProfilePlace, shapedProfile } from '../../brace/profile.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { Piece } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { Table } from '../parts/table.tsx';
import { ProfileDrawing } from '../plan/profile.tsx';
import { words } from '../words/language.ts';
import { woodWords } from './words.ts';

export type Use = NonNullable<Piece['brace']>;

const shapes = ['level', 'tapered', 'scalloped', 'parabolic'] as const;

export const endMm = 3;

/** A brace along its length, with the doubt of its wood. */
export interface MeasuredAlong {
  readonly stationsNm2: readonly Estimate[];
  readonly evenNm2: Estimate;
  readonly volumeM3: number;
}

/** The stiffness of a brace along its length within the doubt of its stick's modulus; null where it has no length. */
export function alongOf(
  bare: Omit<StationedBrace, 'modulusPa'>,
  strip: PlateStrip,
  stations: Use['stations'],
  eGpa: Estimate,
): MeasuredAlong | null {
  const at = (sigmas: number) =>
    braceAlong({ ...bare, modulusPa: (eGpa.value + sigmas * eGpa.sigma) * 1e9 }, strip, stations);
  const [along, stiffer, softer] = [at(0), at(1), at(-1)];
  if (along === undefined || stiffer === undefined || softer === undefined) return null;
  const within = (of: (along: BraceAlong) => number) => ({
    value: of(along),
    sigma: Math.abs(of(stiffer) - of(softer)) / 2,
  });
  return {
    stationsNm2: along.stations.map((_, k) => within(({ stations: all }) => all[k]!.bendingNm2)),
    evenNm2: within(({ evenNm2 }) => evenNm2),
    volumeM3: along.volumeM3,
  };
}

export function Stations(props: {
  readonly use: Use;
  readonly along: MeasuredAlong | null;
  readonly onChange: (stations: readonly ProfilePlace[]) => void;
}) {
  const { onChange, along } = props;
  const t = woodWords().brace;
  const stations = props.use.stations.toSorted((a, b) => a.atMm - b.atMm);
  const lengthMm = (stations.at(-1)?.atMm ?? 0) - (stations[0]?.atMm ?? 0);
  const highest = Math.max(1, ...stations.map((station) => station.heightMm));
  const last = stations.at(-1);
  return (
    <>
      <h3>{t.heights}</h3>
      <Actions>
        {shapes.map((shape) => (
          <Button
            key={shape}
            text={t.shapes[shape]}
            isDisabled={!(lengthMm > 0)}
            onPress={() => onChange(shapedProfile(shape, lengthMm, highest, Math.min(endMm, highest)))}
          />
        ))}
      </Actions>
      {stations[0]?.atMm === 0 && lengthMm > 0 && (
        <ProfileDrawing
          brace={{
            name: t.theBrace,
            from: { xMm: 0, yMm: 0 },
            to: { xMm: lengthMm, yMm: 0 },
            profile: stations,
            floors: [],
          }}
        />
      )}
      <Table
        label={t.heightsLabel}
        class="stations"
        head={[t.along, words.quantities.braceHeight, t.stiffnessThere, '']}
        rows={stations.map((station, k) => [
          <NumberField
            label={t.stationAlong(k + 1)}
            of="placeAlongBrace"
            shortLabel=""
            value={station.atMm}
            onSet={(atMm) => onChange(stations.with(k, { ...station, atMm }))}
          />,
          <NumberField
            label={t.stationHeight(k + 1)}
            of="braceHeight"
            shortLabel=""
            value={station.heightMm}
            onSet={(heightMm) => onChange(stations.with(k, { ...station, heightMm }))}
          />,
          along === null ? '–' : nm2(along.stationsNm2[k]!),
          stations.length > 2 && (
            <Button kind="quiet" text={t.remove} onPress={() => onChange(stations.toSpliced(k, 1))} />
          ),
        ])}
      />
      <Actions>
        <Button
          text={t.oneMore}
          onPress={() => onChange([...stations, { atMm: (last?.atMm ?? 0) + 20, heightMm: last?.heightMm ?? 10 }])}
        />
      </Actions>
    </>
  );
}

export const nm2 = (stiffness: Estimate): string => withHalfWidth(stiffness, 'N m²');
