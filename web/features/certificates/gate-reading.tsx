import type { ReactNode } from 'react'
import { isWithin, SIDES, type Side } from '#core/runout-verdict.ts'
import { decimalsOf, figure } from '#web/lib/format.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

/** One set as the gates take it: the figure as it was read, and the limit for the place of its dial. */
export interface GateSet {
  name: string
  stepMm: number
  tirMm: { [End in Side]?: number | undefined }
  limitMm: { [End in Side]?: number | undefined }
  /** The same beside where the sheet gives it, where that is another place. */
  limitSays: { [End in Side]?: string | undefined }
}

export interface GateReadingProps {
  sets: readonly GateSet[]
  /** A report has no limit to meet. */
  report: boolean
}

// As for the rows of the sheet: on a narrow screen the cells are laid out as lines.
const ROLES = {
  table: { role: 'table' },
  group: { role: 'rowgroup' },
  row: { role: 'row' },
  head: { role: 'columnheader' },
  rowHead: { role: 'rowheader' },
  cell: { role: 'cell' },
} as const

/**
 * What the gates ask of the same ends: the reading itself against the limit of the house, nothing added. The certificate
 * adds the give-or-take, so that the two may say different things of one figure.
 */
export function GateReading({ sets, report }: GateReadingProps) {
  if (sets.length === 0) return null
  return (
    <section aria-labelledby="by-the-gate">
      <h2 id="by-the-gate">The reading itself, as the gate takes it</h2>
      <table className="sheet-rows gate-rows" {...ROLES.table}>
        <caption className="spoken">Each reading against our limit, nothing added, mm</caption>
        <thead {...ROLES.group}>
          <tr {...ROLES.row}>
            <th scope="col" {...ROLES.head}>
              end
            </th>
            {sets.map((set) => (
              <th key={set.name} scope="col" className="n" {...ROLES.head}>
                {set.name}
              </th>
            ))}
            <th scope="col" className="n" {...ROLES.head}>
              allowed
            </th>
          </tr>
        </thead>
        <tbody {...ROLES.group}>
          {SIDES.map((side) => (
            <tr key={side} {...ROLES.row}>
              <th scope="row" {...ROLES.rowHead}>
                <EndMark end={side} letter /> {side}
              </th>
              {sets.map((set) => (
                <td key={set.name} {...ROLES.cell} className="n fig" data-head={set.name}>
                  <Reading set={set} side={side} report={report} />
                </td>
              ))}
              <td {...ROLES.cell} className="n fig" data-head="allowed">
                {limitOf(sets, side, report)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">
        {report
          ? 'A report says how the crank came in; no limit need be met.'
          : 'The gate asks the reading itself to be within our limit. The verdict on the sheet adds the give-or-take, and is decided before rounding.'}
      </p>
    </section>
  )
}

function Reading({ set, side, report }: { set: GateSet; side: Side; report: boolean }): ReactNode {
  const mm = set.tirMm[side]
  const limit = set.limitMm[side]
  if (mm === undefined) return '–'
  // One digit more than the dial has, so that what is decided here can be seen.
  const written = figure(mm, decimalsOf(set.stepMm) + 1)
  return !report && limit !== undefined && !isWithin(mm, limit) ? <span className="over">{written} over</span> : written
}

function limitOf(sets: readonly GateSet[], side: Side, report: boolean): string {
  if (report) return 'none asked'
  return sets.map((set) => set.limitSays[side]).find((one) => one !== undefined) ?? 'not to be compared'
}
