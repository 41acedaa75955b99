import type { ReactNode } from 'react'

export interface FigureRow {
  key: string
  /** The first cell heads the row. */
  cells: readonly ReactNode[]
}

export interface FigureTableProps {
  caption: string
  heads: readonly string[]
  rows: readonly FigureRow[]
  /** Head of the column that can be spared where there is no width. */
  spare?: string
}

/** A few columns of figures that stay a table at every width: the name wraps, the figures do not. */
export function FigureTable({ caption, heads, rows, spare }: FigureTableProps) {
  const look = (head: string | undefined) => (head !== undefined && head === spare ? 'n spare' : 'n')
  return (
    <table className="figure-table">
      <caption className="spoken">{caption}</caption>
      <thead>
        <tr>
          {heads.map((head, column) => (
            <th key={head} scope="col" className={column === 0 ? undefined : look(head)}>
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            {row.cells.map((cell, column) =>
              column === 0 ? (
                <th key={heads[column]} scope="row">
                  {cell}
                </th>
              ) : (
                <td key={heads[column]} className={look(heads[column])}>
                  {cell}
                </td>
              ),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
