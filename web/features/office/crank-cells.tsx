import { Link } from 'react-router'
import type { Column } from '#web/ui/table.tsx'

/** The columns with which every table of cranks in the office begins. */
export function crankCells<Row extends { id: string; tag: string; whose?: string | undefined; engine: string }>(): Column<Row>[] {
  return [
    {
      id: 'tag',
      head: 'tag',
      whole: true,
      narrow: 'tag',
      cell: (row) => (
        <span className="tag">
          <Link to={`/jobs/${row.id}`}>{row.tag}</Link>
        </span>
      ),
    },
    {
      id: 'whose',
      head: 'whose, what',
      narrow: 'main',
      cell: (row) => (
        <>
          {row.whose}
          <br />
          <small>{row.engine}</small>
        </>
      ),
    },
  ]
}
