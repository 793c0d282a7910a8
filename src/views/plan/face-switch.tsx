import { Button } from '../parts/actions.tsx';
import type { Face } from './face.ts';
import { planWords } from './words.ts';

export function FaceSwitch(props: { readonly face: Face; readonly onChange: (face: Face) => void }) {
  return (
    <fieldset class="switch">
      <legend class="visually-hidden">{planWords().seenFrom}</legend>
      {(['inside', 'outside'] as const).map((face) => (
        <Button
          key={face}
          text={planWords().from[face]}
          isChosen={props.face === face}
          onPress={() => props.onChange(face)}
        />
      ))}
    </fieldset>
  );
}
