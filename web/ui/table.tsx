import type { ReactNode } from 'react'

/**
 * Where a cell goes when the screen is narrow and each row becomes two lines or three: `tag` at the left, `main` beside it,
 * `right` opposite, `under` a line of its own beneath, `left-out` not at all.
 */
export type NarrowPlace = 'tag' | 'main' | 'right' | 'under' | 'left-out'

export interface Column<Row> {
  id: string
  head: ReactNode
  cell(row: Row): ReactNode
  /** Figures stand at the right and line up. */
  figures?: boolean
  /** Never broken over two lines on a wide screen: days, tags. */
  whole?: boolean
  narrow?: NarrowPlace
}

export interface TableProps<Row> {
  /** What is listed, for those who hear it. */
  caption: string
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey(row: Row): string
  /** What stands instead of rows when there are none; a sentence that says what would be here. */
  empty: ReactNode
}

// A table laid out as a grid loses its meaning for screen readers in most browsers; the roles, said outright, give it back.
const ROLES = {
  table: { role: 'table' },
  group: { role: 'rowgroup' },
  row: { role: 'row' },
  head: { role: 'columnheader' },
  cell: { role: 'cell' },
} as const

/** A plain list of rows with hairlines. At 640 px and under each row becomes two-line; the page never scrolls sideways. */
export function Table<Row>({ caption, columns, rows, rowKey, empty }: TableProps<Row>) {
  if (rows.length === 0) return <p className="soft">{empty}</p>
  return (
    <table className="table" {...ROLES.table}>
      <caption className="spoken">{caption}</caption>
      <thead {...ROLES.group}>
        <tr {...ROLES.row}>
          {columns.map((column) => (
            <th key={column.id} scope="col" className={column.figures ? 'n' : undefined} {...ROLES.head}>
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody {...ROLES.group}>
        {rows.map((row) => (
          <tr key={rowKey(row)} {...ROLES.row}>
            {columns.map((column) => (
              <td
                key={column.id}
                data-narrow={column.narrow ?? 'under'}
                className={[column.figures && 'n', column.whole && 'whole'].filter(Boolean).join(' ') || undefined}
                {...ROLES.cell}
              >
                {column.cell(row)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
