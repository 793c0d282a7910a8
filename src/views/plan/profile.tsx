// The chosen brace from its side: as it stands, as it stood before, and its floor. Heights are drawn larger than lengths.
import { heightAtMm } from '../../brace/profile.ts';
import type { BraceReading } from '../../record/cut-place.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import type { PlanBrace, StoredProfile } from '../../record/record.ts';
import { useLength } from '../parts/own-units.ts';
import { planWords } from './words.ts';
import './plan.css';
import './profile.css';

const WIDTH = 420;
const HEIGHT = 96;
const BASE = 78;

export function ProfileDrawing(props: {
  readonly brace: Pick<PlanBrace, 'name' | 'from' | 'to' | 'profile' | 'floors'>;
  /** how its places are read; a stick that lies nowhere yet is read from its first end */
  readonly reading?: BraceReading;
  readonly before?: StoredProfile | undefined;
  readonly after?: StoredProfile | undefined;
}) {
  const { brace } = props;
  const t = planWords().braceForm;
  const [say, height] = [useLength(), useLength(3)];
  const length = planBraceLengthMm(brace);
  const now = props.after ?? brace.profile;
  if (!(length > 0) || now.length === 0) return null;
  const before = props.before ?? (props.after === undefined ? undefined : brace.profile);
  const highest = Math.max(1, ...[...now, ...(before ?? [])].map((point) => point.heightMm));
  const turned = props.reading?.turned ?? ((at: number) => at);
  const x = (at: number) => 6 + (turned(at) / length) * (WIDTH - 12);
  const y = (height: number) => BASE - (height / highest) * (BASE - 20);
  const line = (profile: StoredProfile) =>
    [0, ...profile.map((point) => point.atMm).filter((at) => at > 0 && at < length), length]
      .map((at) => `${x(at).toFixed(1)} ${y(heightAtMm(profile, at)).toFixed(1)}`)
      .join('L');
  return (
    <figure class="plan-profile">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={t.sideView(brace.name)}>
        {before !== undefined && <path class="profile-before" d={`M${line(before)}`} />}
        <path class="profile-wood" d={`M${x(0)} ${BASE}L${line(now)}L${x(length)} ${BASE}Z`} />
        {brace.floors.map((floor) => (
          <path
            key={`${floor.fromMm} ${floor.toMm}`}
            class="profile-floor"
            d={`M${x(Math.max(0, floor.fromMm))} ${y(floor.heightMm)}L${x(Math.min(length, floor.toMm))} ${y(floor.heightMm)}`}
          />
        ))}
        <text class="profile-text" x={6} y={BASE + 14}>
          0
        </text>
        <text class="profile-text end" x={WIDTH - 6} y={BASE + 14}>
          {say(length)}
        </text>
        <text class="profile-text middle" x={WIDTH / 2} y={11}>
          {t.highest(height(Math.max(...now.map((point) => point.heightMm))))}
        </text>
      </svg>
      <figcaption class="hint">
        {[
          ...(props.reading === undefined ? [] : [t.fromEndToEnd(props.reading.end, props.reading.otherEnd)]),
          ...(before === undefined ? [] : [t.dashed]),
          ...(brace.floors.length > 0 ? [t.dotted] : []),
        ].join(' ')}
      </figcaption>
    </figure>
  );
}
