/**
 * The day of an instant where the reader is, "2026-11-25". The instants of the record are in UTC; west of Greenwich an
 * evening belongs to the day before.
 * @param iso an instant, ISO 8601
 */
export function localDay(iso: string): string {
  const at = new Date(iso);
  const two = (part: number) => String(part).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}
