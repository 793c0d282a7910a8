/** A sentence with one part of it in bold, wherever the language has that part. */
export function Emphasised(props: { readonly text: string; readonly part: string }) {
  const { text, part } = props;
  const from = text.indexOf(part);
  if (from < 0) return <>{text}</>;
  return (
    <>
      {text.slice(0, from)}
      <strong>{part}</strong>
      {text.slice(from + part.length)}
    </>
  );
}
