import type { ReactNode, Ref } from 'react'

export interface ChartRow {
  key: string
  /** The first cell heads the row. */
  cells: readonly ReactNode[]
}

export interface ChartTable {
  /** What the table holds, in words; its caption. */
  caption: string
  heads: readonly ReactNode[]
  rows: readonly ChartRow[]
}

export interface ChartFigureProps {
  /** How many, and by what rule they were counted; stands beneath. */
  caption?: ReactNode
  table: ChartTable
  /** `folded` behind a line of its own, `spoken` for those who hear it, where the same figures already stand beside the picture. */
  tableIs?: 'folded' | 'spoken'
  boxRef?: Ref<HTMLDivElement>
  children: ReactNode
}

/** A picture with figures, and the same figures as a table. */
export function ChartFigure({ caption, table, tableIs = 'folded', boxRef, children }: ChartFigureProps) {
  return (
    <figure className="chart">
      <div className="chart-box" ref={boxRef}>
        {children}
      </div>
      {caption !== undefined && <figcaption>{caption}</figcaption>}
      {tableIs === 'spoken' ? (
        <div className="spoken">
          <SameAsTable table={table} />
        </div>
      ) : (
        <details>
          <summary>The same as a table</summary>
          <SameAsTable table={table} />
        </details>
      )}
    </figure>
  )
}

function SameAsTable({ table }: { table: ChartTable }) {
  return (
    <table className="plain-table">
      <caption className="spoken">{table.caption}</caption>
      <thead>
        <tr>
          {table.heads.map((head, column) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: columns stay where they are
            <th key={column} scope="col" className={column === 0 ? undefined : 'n'}>
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {table.rows.map((row) => (
          <tr key={row.key}>
            {row.cells.map((cell, column) =>
              column === 0 ? (
                // biome-ignore lint/suspicious/noArrayIndexKey: columns stay where they are
                <th key={column} scope="row">
                  {cell}
                </th>
              ) : (
                // biome-ignore lint/suspicious/noArrayIndexKey: columns stay where they are
                <td key={column} className="n">
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
