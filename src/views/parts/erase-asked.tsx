// The second question before something is erased, because nothing brings it back. Keeping is the plain way out.

import { words } from '../words/language.ts';
import { Actions, Button } from './actions.tsx';

export function EraseAsked(props: {
  readonly warning: string;
  readonly onErase: () => void;
  readonly onKeep: () => void;
}) {
  return (
    <div role="alert">
      <p>{props.warning}</p>
      <Actions>
        <Button text={words.record.eraseForGood} onPress={props.onErase} />
        <Button kind="primary" text={words.record.keepThem} onPress={props.onKeep} />
      </Actions>
    </div>
  );
}
