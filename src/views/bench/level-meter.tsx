import type { Level } from '../../signal/hear/level.ts';
import { words } from '../words/language.ts';
import './level-meter.css';

const lowestDb = -80;
/** A hum as loud as this is a good part of a tap's own ring (common practice, no source): there it costs modes. */
const loudHumDb = -40;
const place = (db: number): number => Math.max(0, Math.min(100, 100 * (1 - db / lowestDb)));

/** The input level with its peak and the room's floor, on a marked scale. */
export function LevelScale(props: { readonly level: Level | undefined }) {
  const { level } = props;
  const rmsDb = Math.round(level?.rmsDb ?? lowestDb);
  return (
    <div class="level">
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" role="img" aria-label={words.bench.level(rmsDb)}>
        <rect class="level-track" x="0" y="2" width="100" height="5" />
        <rect class="level-now" x="0" y="2" width={place(rmsDb)} height="5" />
        {level?.roomDb !== undefined && (
          <rect class="level-room" x={place(level.roomDb)} y="1" width="0.5" height="7" />
        )}
        {level !== undefined && (
          <rect
            class={level.clipped ? 'level-peak clipped' : 'level-peak'}
            x={place(level.peakDb)}
            y="1"
            width="0.7"
            height="7"
          />
        )}
      </svg>
      <div class="level-scale" aria-hidden="true">
        {[-80, -60, -40, -20, 0].map((db) => (
          <span key={db}>{db}</span>
        ))}
      </div>
      <p class="hint">
        {level === undefined
          ? ' '
          : level.clipped
            ? words.bench.overdriven
            : level.roomDb === undefined
              ? words.bench.hearingRoom
              : words.bench.levels(Math.round(level.roomDb), Math.round(level.peakDb))}
      </p>
      {level?.humDb !== undefined && level.humDb > loudHumDb && (
        <p class="note">{words.bench.loudHum(Math.round(level.humDb))}</p>
      )}
    </div>
  );
}
