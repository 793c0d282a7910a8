import { useEffect, useState } from 'preact/hooks';
import { useWorkshop } from '../workshop-context.ts';

/** Address of a stored photograph while it is shown; undefined until it is read, or where it is not here. */
export function usePhoto(photoId: string | undefined): string | undefined {
  const { photos } = useWorkshop();
  const [url, setUrl] = useState<string | undefined>(undefined);
  useEffect(() => {
    let made: string | undefined;
    let gone = false;
    const load = async () => {
      const blob = photoId === undefined ? undefined : await photos.get(photoId);
      if (gone) return;
      made = blob === undefined ? undefined : URL.createObjectURL(blob);
      setUrl(made);
    };
    void load();
    return () => {
      gone = true;
      if (made !== undefined) URL.revokeObjectURL(made);
    };
  }, [photoId]);
  return url;
}
