// Every table of the page: from heads and rows. It scrolls by itself where it is wider than its place, and on a phone its
// rows become small cards where there are too many columns for it.
import type { ComponentChildren } from 'preact';
import { Scroll } from './scroll.tsx';
import './table.css';

/** A cell over several columns. */
interface Wide {
  readonly columns: number;
  readonly content: ComponentChildren;
}

/** What stands in a row; the first is its head. What is `undefined` is not a column of this table. */
export type Row = readonly (ComponentChildren | Wide | undefined)[];

/** Rows that belong together, below a head of their own. */
export interface RowGroup {
  readonly title: string;
  readonly rows: readonly Row[];
}

/** A cell over several columns. */
export const wide = (columns: number, content: ComponentChildren): Wide => ({ columns, content });

const isWide = (cell: ComponentChildren | Wide): cell is Wide =>
  typeof cell === 'object' && cell !== null && 'columns' in cell;

const isGroup = (rows: Row | RowGroup): rows is RowGroup => 'title' in rows;

/** As many columns of a figure with its ± stand side by side on a phone; looked at on a screen 390 pixels wide. */
const mostBesideOnPhone = 4;

export function Table(props: {
  /** named so, the table scrolls by itself */
  readonly label?: string;
  /** heads of the columns; what is `undefined` is not a column of this table */
  readonly head?: readonly (ComponentChildren | undefined)[];
  readonly rows: readonly (Row | RowGroup)[];
  readonly class?: string;
  /** its columns say something only side by side: it scrolls on a phone too */
  readonly isMatrix?: boolean;
  /** its cells hold sentences: on a phone its rows are cards however few its columns */
  readonly isWordy?: boolean;
  /** which column the rows are sorted by */
  readonly sortedBy?: number;
}) {
  const heads = props.head?.filter((head) => head !== undefined) ?? [];
  const labels = heads.map((head) => (typeof head === 'string' ? head : undefined));
  const isStacking = !props.isMatrix && (props.isWordy === true || heads.length > mostBesideOnPhone);
  const classes = [props.class, isStacking ? 'stacking' : undefined].filter((name) => name !== undefined).join(' ');
  const groups = props.rows.some(isGroup)
    ? props.rows.filter(isGroup)
    : [{ title: undefined, rows: props.rows.filter((row): row is Row => !isGroup(row)) }];
  const table = (
    <table class={classes}>
      {heads.length > 0 && (
        <thead>
          <tr>
            {heads.map((head, i) => (
              <th
                key={i}
                scope="col"
                aria-sort={props.sortedBy === undefined ? undefined : i === props.sortedBy ? 'descending' : 'none'}
              >
                {head}
              </th>
            ))}
          </tr>
        </thead>
      )}
      {groups.map(({ title, rows }, g) => (
        <tbody key={g}>
          {title !== undefined && (
            <tr>
              <th scope="rowgroup" colSpan={heads.length}>
                {title}
              </th>
            </tr>
          )}
          {rows.map((row, i) => (
            <TableRow key={i} row={row} labels={labels} />
          ))}
        </tbody>
      ))}
    </table>
  );
  return props.label === undefined ? table : <Scroll label={props.label}>{table}</Scroll>;
}

function TableRow(props: { readonly row: Row; readonly labels: readonly (string | undefined)[] }) {
  const [head, ...cells] = props.row.filter((cell) => cell !== undefined);
  let column = isWide(head) ? head.columns : 1;
  return (
    <tr>
      <th scope="row" colSpan={isWide(head) ? head.columns : undefined}>
        {isWide(head) ? head.content : head}
      </th>
      {cells.map((cell, i) => {
        const label = props.labels[column];
        column += isWide(cell) ? cell.columns : 1;
        return (
          <td key={i} data-label={label} colSpan={isWide(cell) ? cell.columns : undefined}>
            {isWide(cell) ? cell.content : cell}
          </td>
        );
      })}
    </tr>
  );
}
