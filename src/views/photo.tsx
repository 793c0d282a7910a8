import { useEffect, useId, useState } from 'preact/hooks';
import { useWorkshop } from './workshop-context.ts';

/** A photograph of the step or the piece, kept small enough for the record. */
export function Photo(props: {
  readonly alt?: string;
  readonly photoId: string | undefined;
  readonly onChange: (photoId: string | undefined) => void;
}) {
  const { photos } = useWorkshop();
  const id = useId();
  const [url, setUrl] = useState<string | undefined>(undefined);
  useEffect(() => {
    let made: string | undefined;
    let gone = false;
    const load = async () => {
      const blob = props.photoId === undefined ? undefined : await photos.get(props.photoId);
      if (gone) return;
      made = blob === undefined ? undefined : URL.createObjectURL(blob);
      setUrl(made);
    };
    void load();
    return () => {
      gone = true;
      if (made !== undefined) URL.revokeObjectURL(made);
    };
  }, [props.photoId]);
  const take = async (file: File | undefined) => {
    if (file !== undefined) props.onChange(await photos.add(file));
  };
  return (
    <div class="photo">
      {url !== undefined && <img src={url} alt={props.alt ?? 'The piece at this step'} />}
      <label class="quiet button" for={id}>
        {props.photoId === undefined ? 'Add a photo' : 'Another photo'}
      </label>
      <input
        id={id}
        class="visually-hidden"
        type="file"
        accept="image/*"
        onChange={(event) => void take(event.currentTarget.files?.[0])}
      />
      {props.photoId !== undefined && (
        <button type="button" class="quiet" onClick={() => props.onChange(undefined)}>
          Remove the photo
        </button>
      )}
    </div>
  );
}
