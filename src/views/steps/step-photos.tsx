// The photographs of a step, each with what it shows: front, back, inside, every crack.
import { useId } from 'preact/hooks';
import type { StepPhoto } from '../../record/step-photos.ts';
import { Button } from '../parts/actions.tsx';
import { TextField } from '../parts/text-field.tsx';
import { usePhoto } from '../parts/use-photo.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function StepPhotos(props: {
  readonly photos: readonly StepPhoto[];
  readonly onChange: (photos: readonly StepPhoto[]) => void;
}) {
  const { photos, onChange } = props;
  const store = useWorkshop().photos;
  const t = words.fields.photo;
  const id = useId();
  const take = async (files: FileList | null) => {
    const added: StepPhoto[] = [];
    for (const file of files ?? []) added.push({ photoId: await store.add(file), of: '' });
    if (added.length > 0) onChange([...photos, ...added]);
  };
  return (
    <div class="step-photos">
      {photos.map((photo) => (
        <Shown
          key={photo.photoId}
          photo={photo}
          onChange={(of) => onChange(photos.map((known) => (known === photo ? { ...known, of } : known)))}
          onRemove={() => onChange(photos.filter((known) => known !== photo))}
        />
      ))}
      <div class="photo">
        <label class="quiet button" for={id}>
          {photos.length === 0 ? t.add : t.another}
        </label>
        <input
          id={id}
          class="visually-hidden"
          type="file"
          accept="image/*"
          multiple
          onChange={(event) => void take(event.currentTarget.files)}
        />
      </div>
    </div>
  );
}

function Shown(props: {
  readonly photo: StepPhoto;
  readonly onChange: (of: string) => void;
  readonly onRemove: () => void;
}) {
  const { photoId, of } = props.photo;
  const t = words.fields.photo;
  const url = usePhoto(photoId);
  return (
    <div class="photo">
      {url !== undefined && <img src={url} alt={of === '' ? t.alt : of} />}
      <TextField label={t.of} value={of} placeholder={t.ofExample} onChange={props.onChange} />
      <Button kind="quiet" text={t.remove} onPress={props.onRemove} />
    </div>
  );
}
