// The parts of a record in which an import and what is here differ.
/** Parts of the record whose name in the file is not their name at the bench; the others go by the file's, unit left out. */
const partWords: Readonly<Record<string, string>> = {
  steps: 'step',
  rounds: 'round',
  done: 'what was done',
  climate: 'air',
  tempC: 'temperature',
  support: 'how it was held',
  fit: 'modes read',
  pins: 'name of a mode',
  targets: 'target',
  floors: 'floor of a brace',
  pieces: 'piece of wood',
  eLongGpa: 'E along',
  eCrossGpa: 'E across',
  gGpa: 'G',
};

/** The field that both sides say differently. */
export const field = (path: readonly string[]): string =>
  path
    .filter((part) => !part.startsWith('#') && part !== 'value' && part !== 'sigma')
    .map(
      (part) =>
        partWords[part] ??
        part
          .replace(/(Hz|Mm|Cm2|KgM3|Gpa|Percent|Db|Iso|[CGNS])$/, '')
          .replace(/([a-z])([A-Z])/g, '$1 $2')
          .toLowerCase(),
    )
    .join(', ');
