import type { Column } from '#web/ui/table.tsx'
import { tagColumn } from '#web/ui/tag-column.tsx'

/** The columns with which every table of cranks in the office begins. */
export function crankCells<Row extends { id: string; tag: string; whose?: string | undefined; engine: string }>(): Column<Row>[] {
  return [
    tagColumn({ head: 'tag', tag: (row) => row.tag, to: (row) => `/jobs/${row.id}` }),
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
