import { VERDICT_WORDS } from '#core/certificate-figures.ts'

export interface CertificateRow {
  what: string
  notes?: readonly string[]
  now: string
  allowed: string
  verdict: string
  asReceived?: string
  giveOrTake?: string
}

/** Verdict words that stand for a figure past its limit; on the screen they carry the mark as on paper. */
const PAST: readonly string[] = [
  VERDICT_WORDS.over,
  VERDICT_WORDS.under,
  VERDICT_WORDS['over-ours-inside-makers'],
  VERDICT_WORDS['over-ours-doubtful-by-makers'],
]

// A table laid out as lines loses its meaning for screen readers in most browsers; the roles, said outright, give it back.
const ROLES = {
  table: { role: 'table' },
  group: { role: 'rowgroup' },
  row: { role: 'row' },
  head: { role: 'columnheader' },
  rowHead: { role: 'rowheader' },
  cell: { role: 'cell' },
} as const

/** The rows of a sheet as they print. Narrow, each becomes a line of its name and a line of its figures. */
export function CertificateRows({ rows, caption }: { rows: readonly CertificateRow[]; caption: string }) {
  const full = rows.some((row) => row.asReceived !== undefined)
  return (
    <table className="sheet-rows" {...ROLES.table}>
      <caption className="spoken">{caption}</caption>
      <thead {...ROLES.group}>
        <tr {...ROLES.row}>
          <th scope="col" {...ROLES.head}>
            measured
          </th>
          {full && (
            <th scope="col" className="n" {...ROLES.head}>
              as received
            </th>
          )}
          <th scope="col" className="n" {...ROLES.head}>
            now, mm
          </th>
          {full && (
            <th scope="col" className="n" {...ROLES.head}>
              give or take
            </th>
          )}
          <th scope="col" className="n" {...ROLES.head}>
            allowed
          </th>
          <th scope="col" {...ROLES.head}>
            verdict
          </th>
        </tr>
      </thead>
      <tbody {...ROLES.group}>
        {rows.map((row) => (
          <tr key={row.what} {...ROLES.row}>
            <th scope="row" {...ROLES.rowHead}>
              {row.what}
              {row.notes !== undefined && row.notes.length > 0 && <small className="soft">{row.notes.join(' · ')}</small>}
            </th>
            {full && (
              <td {...ROLES.cell} className="n fig" data-head="as received">
                {row.asReceived}
              </td>
            )}
            <td {...ROLES.cell} className="n fig" data-head="now">
              <b>{row.now}</b>
            </td>
            {full && (
              <td {...ROLES.cell} className="n fig" data-head="give or take">
                {row.giveOrTake}
              </td>
            )}
            <td {...ROLES.cell} className="n fig" data-head="allowed">
              {row.allowed}
            </td>
            <td {...ROLES.cell} className="sheet-verdict">
              {PAST.includes(row.verdict) ? <span className="over">{row.verdict}</span> : row.verdict}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
