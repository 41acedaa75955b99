import type { OfficeEarning } from '#contract/office-earns.ts'
import { FigureFoot } from '#web/features/office/figure-foot.tsx'
import { type FigureRow, FigureTable } from '#web/features/office/figure-table.tsx'
import { linkedCount } from '#web/features/office/linked-count.tsx'
import { figure, money } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Empty } from '#web/ui/states.tsx'

type Earns = OfficeEarning['all']

export interface EarnsProps {
  earning: OfficeEarning
  /** At most so many engines, those that earn least; absent: all. */
  most?: number
}

/** What an hour at the bench brings, by engine, the least first. */
export function EarnsByEngine({ earning, most }: EarnsProps) {
  const { currency } = useHere()
  if (earning.all.n === 0) return <Empty>No rebuilt crank with bench hours and an agreed price went home in these days.</Empty>
  const shown = most === undefined ? earning.rows : earning.rows.slice(0, most)
  const whole = (minor: number | undefined) => (minor === undefined ? '–' : money(Math.round(minor), currency))
  const rowOf = (key: string, name: string, earns: Earns, against: string): FigureRow => ({
    key,
    cells: [
      name,
      linkedCount(earns.n, earns.cranks),
      earns.meanHours === undefined ? '–' : figure(earns.meanHours, 1),
      whole(earns.meanPriceMinor),
      <>
        {whole(earns.perHourMinor)}
        {against !== '' && <small> {against}</small>}
      </>,
    ],
  })
  return (
    <>
      <FigureTable
        caption="What earns, by engine"
        spare="price"
        heads={['', 'cranks', 'h a crank', 'price', `${currency} an hour`]}
        rows={[
          rowOf('all', 'All', earning.all, ''),
          ...shown.map((row) => rowOf(row.id, row.name, row, `${figure(100 * row.againstShop, 0)} %`)),
        ]}
      />
      {shown.length < earning.rows.length && <p className="soft">And {earning.rows.length - shown.length} more that earn better.</p>}
      <p className="figure-foot">
        Per cents: against an hour of the shop. <FigureFoot figure={earning} of="what earns" />
      </p>
    </>
  )
}
