import { usePhoto } from '../../parts/use-photo.ts';
import './photo.css';

/** A photograph of the record with what it shows. */
export function ReportPhoto(props: { readonly photoId: string | undefined; readonly text: string }) {
  const url = usePhoto(props.photoId);
  if (url === undefined) return null;
  return (
    <figure class="report-photo">
      <img src={url} alt={props.text} />
      <figcaption>{props.text}</figcaption>
    </figure>
  );
}
