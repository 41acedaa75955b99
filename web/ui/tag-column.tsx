import { Link } from 'react-router'
import type { Column } from '#web/ui/table.tsx'

/** The column with which every table of cranks begins: the tag, and where it leads. */
export function tagColumn<Row>({ head = 'Tag', tag, to }: { head?: string; tag(row: Row): string; to(row: Row): string }): Column<Row> {
  return {
    id: 'tag',
    head,
    whole: true,
    narrow: 'tag',
    cell: (row) => (
      <span className="tag">
        <Link to={to(row)}>{tag(row)}</Link>
      </span>
    ),
  }
}
