// The second question before something is erased, because nothing brings it back. Keeping is the plain way out.
import { words } from '../words/language.ts';

export function EraseAsked(props: {
  readonly warning: string;
  readonly onErase: () => void;
  readonly onKeep: () => void;
}) {
  return (
    <div role="alert">
      <p>{props.warning}</p>
      <div class="actions">
        <button type="button" onClick={props.onErase}>
          {words.record.eraseForGood}
        </button>
        <button type="button" class="primary" onClick={props.onKeep}>
          {words.record.keepThem}
        </button>
      </div>
    </div>
  );
}
