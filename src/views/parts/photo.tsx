import { useId } from 'preact/hooks';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { Button } from './actions.tsx';
import { usePhoto } from './use-photo.ts';

/** A photograph of the step or the piece, kept small enough for the record. */
export function Photo(props: {
  readonly alt?: string;
  readonly photoId: string | undefined;
  readonly onChange: (photoId: string | undefined) => void;
}) {
  const { photos } = useWorkshop();
  const t = words.fields.photo;
  const id = useId();
  const url = usePhoto(props.photoId);
  const take = async (file: File | undefined) => {
    if (file !== undefined) props.onChange(await photos.add(file));
  };
  return (
    <div class="photo">
      {url !== undefined && <img src={url} alt={props.alt ?? t.alt} />}
      <label class="quiet button" for={id}>
        {props.photoId === undefined ? t.add : t.another}
      </label>
      <input
        id={id}
        class="visually-hidden"
        type="file"
        accept="image/*"
        onChange={(event) => void take(event.currentTarget.files?.[0])}
      />
      {props.photoId !== undefined && <Button kind="quiet" text={t.remove} onPress={() => props.onChange(undefined)} />}
    </div>
  );
}
