import type { Asked, ForecastKind } from '../../app/forecasts.ts';
import { forecastWords } from '../forecast/words.ts';

/** How far a computation is, with a way to stop it; what to do when it was stopped or failed. */
export function Waiting<K extends ForecastKind>(props: {
  readonly asked: Asked<K>;
  readonly what: string;
  readonly onCancel: () => void;
  readonly onAgain: () => void;
}) {
  const { asked } = props;
  const t = forecastWords();
  switch (asked.kind) {
    case 'none':
    case 'ready':
      return null;
    case 'computing':
      return (
        <div class="waiting">
          <p role="status">{t.computing(props.what)}</p>
          <progress max={1} value={asked.fraction} aria-label={props.what} />
          <button type="button" class="quiet" onClick={props.onCancel}>
            {t.stop}
          </button>
        </div>
      );
    case 'cancelled':
    case 'failed':
      return (
        <p class="note">
          {asked.kind === 'cancelled' ? t.stopped : t.failed(asked.message)}{' '}
          <button type="button" class="quiet" onClick={props.onAgain}>
            {t.again}
          </button>
        </p>
      );
  }
}
