import type { Asked, ForecastKind } from '../../app/forecasts.ts';
import { forecastWords } from '../forecast/words.ts';
import { Button } from './actions.tsx';
import './waiting.css';

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
          <Button kind="quiet" text={t.stop} onPress={props.onCancel} />
        </div>
      );
    case 'cancelled':
    case 'failed':
      return (
        <p class="note">
          {asked.kind === 'cancelled' ? t.stopped : t.failed(asked.message)}{' '}
          <Button kind="quiet" text={t.again} onPress={props.onAgain} />
        </p>
      );
  }
}
