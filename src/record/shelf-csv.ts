// The stock shelf as a table: boards out to a spreadsheet and back, every row checked, every refusal with its reason.
import * as v from 'valibot';
import { type CsvReading, type CsvTable, readCsv, writeCsv } from './csv.ts';
import { atLeastZero, line, prose } from './fields.ts';

const optionalNumber = (low: number, high: number) => v.nullable(v.pipe(v.number(), v.minValue(low), v.maxValue(high)));
const sigma = v.nullable(atLeastZero);

/**
 * One board of the shelf in machine units; null is not measured.
 * Bounds are what no board or billet of wood goes beyond: densities 100 to 1300 kg/m^3 and E_L to 30 GPa as in
 * FPL-GTR-282 chapter 5 (from memory), sizes by the workshop's door.
 */
const ShelfRow = v.object({
  id: v.pipe(v.string(), v.minLength(1)),
  piece: v.picklist(['top', 'back', 'side', 'brace-stock', 'bridge-blank']),
  species: line,
  length_mm: optionalNumber(1, 5000),
  width_mm: optionalNumber(1, 2000),
  thickness_mm: optionalNumber(0.2, 300),
  mass_g: optionalNumber(0.1, 100_000),
  moisture_percent: optionalNumber(0, 60),
  density_kg_m3: optionalNumber(100, 1300),
  sigma_density_kg_m3: sigma,
  e_long_gpa: optionalNumber(1, 40),
  sigma_e_long_gpa: sigma,
  e_cross_gpa: optionalNumber(0.05, 10),
  sigma_e_cross_gpa: sigma,
  g_lr_gpa: optionalNumber(0.05, 10),
  sigma_g_lr_gpa: sigma,
  q_long: optionalNumber(1, 1000),
  q_cross: optionalNumber(1, 1000),
  q_twist: optionalNumber(1, 1000),
  notes: prose,
});

/** One board of the shelf; see the column names for units. */
export type ShelfRow = v.InferOutput<typeof ShelfRow>;

const COLUMNS = Object.keys(ShelfRow.entries) as (keyof ShelfRow)[];
const TEXT_COLUMNS: ReadonlySet<string> = new Set(['id', 'piece', 'species', 'notes']);

/** A row that was not taken. */
export interface RefusedRow {
  /** data row, from 1 */
  readonly row: number;
  readonly column: keyof ShelfRow;
  readonly because: 'not-a-number' | 'out-of-range' | 'missing' | 'unknown-choice' | 'id-twice' | 'too-long';
  readonly found: string;
}

/** A shelf read from a file: what was taken, what was not, or why the file is no shelf. */
export type ShelfReading =
  | { readonly kind: 'shelf'; readonly rows: readonly ShelfRow[]; readonly refused: readonly RefusedRow[] }
  | Extract<CsvReading, { kind: 'unreadable' }>
  | { readonly kind: 'columns-missing'; readonly columns: readonly string[] };

/** The shelf as a table, one board a row. */
export function shelfTable(rows: readonly ShelfRow[]): CsvTable {
  return { header: COLUMNS, rows: rows.map((row) => COLUMNS.map((column) => row[column])) };
}

/** The shelf as machine CSV. Source: RFC 4180; unit in each column's name. */
export function writeShelf(rows: readonly ShelfRow[]): string {
  return writeCsv(shelfTable(rows));
}

/** A decimal number and nothing else: `Number` alone would take '', '0x10' and 'Infinity'. */
const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

function reasonOf(issue: v.BaseIssue<unknown>, field: string): RefusedRow['because'] {
  if (field === '') return 'missing';
  if (issue.type === 'picklist') return 'unknown-choice';
  if (issue.type === 'max_length') return 'too-long';
  return issue.type === 'number' ? 'not-a-number' : 'out-of-range';
}

/**
 * A shelf from CSV text. Columns may stand in any order and others may be among them; good rows are taken, bad ones
 * named with the row, the column and the reason.
 */
export function readShelf(text: string): ShelfReading {
  const table = readCsv(text);
  if (table.kind === 'unreadable') return table;
  const missing = COLUMNS.filter((column) => !table.header.includes(column));
  if (missing.length > 0) return { kind: 'columns-missing', columns: missing };
  const places = COLUMNS.map((column) => table.header.indexOf(column));
  const rows: ShelfRow[] = [];
  const refused: RefusedRow[] = [];
  const ids = new Set<string>();
  table.rows.forEach((fields, k) => {
    const raw = Object.fromEntries(
      COLUMNS.map((column, c) => {
        const field = fields[places[c]!]!.trim();
        if (TEXT_COLUMNS.has(column)) return [column, field];
        return [column, field === '' ? null : DECIMAL.test(field) ? Number(field) : field];
      }),
    );
    const parsed = v.safeParse(ShelfRow, raw, { abortEarly: true });
    if (!parsed.success) {
      const issue = parsed.issues[0];
      const column = issue.path![0].key as keyof ShelfRow;
      const found = fields[places[COLUMNS.indexOf(column)]!]!;
      refused.push({ row: k + 1, column, because: reasonOf(issue, found), found: found.slice(0, 60) });
    } else if (ids.has(parsed.output.id)) {
      refused.push({ row: k + 1, column: 'id', because: 'id-twice', found: parsed.output.id });
    } else {
      ids.add(parsed.output.id);
      rows.push(parsed.output);
    }
  });
  return { kind: 'shelf', rows, refused };
}
