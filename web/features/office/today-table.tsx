import type { ReactNode } from 'react'
import { crankCells } from '#web/features/office/crank-cells.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

/** One crank as every line of today names it. */
export interface Crank {
  id: string
  tag: string
  engine: string
  whose: string
  says: string
}

export interface TodayTableProps<Row extends Crank> {
  of: string
  /** How many there are in all; the rows may be fewer. */
  n: number
  rows: readonly Row[]
  right(row: Row): ReactNode
  rightHead: string
}

/** The cranks of one line of today, folded away until asked for. */
export function TodayTable<Row extends Crank>({ of, n, rows, right, rightHead }: TodayTableProps<Row>) {
  const columns: Column<Row>[] = [
    ...crankCells<Row>(),
    { id: 'says', head: 'why, since when', narrow: 'under', cell: (row) => <small>{row.says}</small> },
    { id: 'right', head: rightHead, figures: true, whole: true, narrow: 'right', cell: right },
  ]
  return (
    <details className="as-table">
      <summary>
        The same as a table<span className="spoken">, {of}</span>
      </summary>
      <Table caption={of} columns={columns} rows={rows} rowKey={(row) => row.id} empty="" />
      {n > rows.length && (
        <p className="soft">
          The first {rows.length} of {n}; the list of cranks has all.
        </p>
      )}
    </details>
  )
}
