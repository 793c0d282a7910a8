// The names of a case's fields: with their units, as a case should be written, and without, as older cases are. What is
// neither is told, with the name it most resembles.

/** Names with units, by the names that plate/ knows the same things under. */
export const namesWithUnits: Readonly<Record<string, string>> = {
  outline: 'outlineMm',
  polygon: 'polygonMm',
  from: 'fromMm',
  to: 'toMm',
  eL: 'eLMpa',
  eR: 'eRMpa',
  eT: 'eTMpa',
  gLR: 'gLRMpa',
  gLT: 'gLTMpa',
  gRT: 'gRTMpa',
};
const withoutUnits = new Map(Object.entries(namesWithUnits).map(([plain, withUnit]) => [withUnit, plain]));

/** A case with the names that plate/ knows, and which of its names had units. */
export interface PlainNames {
  readonly value: unknown;
  readonly hadUnits: ReadonlySet<string>;
  /** the first thing that was named twice, with its unit and without */
  readonly twice?: string;
}

/** Takes the units from the names of a case, wherever they stand in it. */
export function plainNames(value: unknown): PlainNames {
  const hadUnits = new Set<string>();
  let twice: string | undefined;
  const plain = (node: unknown): unknown => {
    if (Array.isArray(node)) return node.map(plain);
    if (typeof node !== 'object' || node === null) return node;
    return Object.fromEntries(
      Object.entries(node).map(([name, below]) => {
        const known = withoutUnits.get(name);
        if (known === undefined) return [name, plain(below)];
        hadUnits.add(known);
        if (Object.hasOwn(node, known)) twice ??= name;
        return [known, plain(below)];
      }),
    );
  };
  const renamed = plain(value);
  return { value: renamed, hadUnits, ...(twice !== undefined && { twice }) };
}

/**
 * The known name that a name was most likely meant to be, of those that are still free; undefined where none is near.
 * @param known without units
 */
export function meantName(name: string, known: readonly string[]): string | undefined {
  const given = name.toLowerCase();
  const near = known.flatMap((plain) => {
    const spellings = [plain, namesWithUnits[plain] ?? plain, plain.replace(UNIT, '')].map((one) => one.toLowerCase());
    const least = Math.min(...spellings.map((one) => edits(given, one)));
    const isPart = given.length > 3 && spellings.some((one) => one.startsWith(given) || given.startsWith(one));
    return isPart || least <= allowed(given) ? [{ plain, least }] : [];
  });
  return near.toSorted((a, b) => a.least - b.least)[0]?.plain;
}

const UNIT = /(Mm|KgM3|Deg|N)$/;

/** Slips of the hand in a word: one in each four letters, two at most. */
const allowed = (word: string): number => Math.min(2, Math.max(1, Math.floor(word.length / 4)));

/** Letters put in, left out, changed or exchanged with their neighbour. Source: Damerau 1964, Commun. ACM 7, 171. */
function edits(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  for (let i = 1; i <= a.length; i++)
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(rows[i - 1]![j]! + 1, rows[i]![j - 1]! + 1, rows[i - 1]![j - 1]! + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, rows[i - 2]![j - 2]! + 1);
      rows[i]![j] = least;
    }
  return rows[a.length]![b.length]!;
}
