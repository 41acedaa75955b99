import type { ReactNode } from 'react'
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import { FigureFoot } from '#web/features/office/figure-foot.tsx'
import { type FigureRow, FigureTable } from '#web/features/office/figure-table.tsx'
import { linkedCount } from '#web/features/office/linked-count.tsx'
import { cranksHref } from '#web/features/office/search.ts'
import { betweenWords, monthWords, ofWords } from '#web/features/office/words.ts'
import { PartBarsChart } from '#web/ui/part-bars-chart.tsx'
import { Empty } from '#web/ui/states.tsx'

type Share = OfficeFirstCheck['all']

const NONE = 'No crank has been read by a second person in these days.'

function rowOf(key: string, name: ReactNode, share: Share & { cranks?: string | null }): FigureRow {
  return {
    key,
    cells: [
      name,
      <span key="share" className="whole">
        {linkedCount(share.n, share.cranks, ofWords(share))}
      </span>,
      share.wilson === undefined ? '–' : betweenWords(share.wilson),
    ],
  }
}

const HEADS = ['', 'true at first check', 'of a hundred, 19 in 20 between'] as const

export interface FirstCheckProps {
  check: OfficeFirstCheck
  /** At most so many rows; absent: all. */
  most?: number
  /** The name of a row, linked where a click narrows to it. */
  named?: (name: string, id: string | null) => ReactNode
}

/** Inside the house limit at both ends when the second person first read it: all, and by who called it true. */
export function FirstCheckByPerson({ check, most, named = (name) => name }: FirstCheckProps) {
  if (check.all.n === 0) return <Empty>{NONE}</Empty>
  return (
    <>
      <FigureTable
        caption="True at first check, by person"
        heads={HEADS}
        rows={[
          rowOf('all', 'All', check.all),
          ...check.byPerson.slice(0, most).map((person) => rowOf(person.id ?? 'none', named(person.name, person.id), person)),
        ]}
      />
      <p className="figure-foot">
        <FigureFoot figure={check} of="true at first check" />
      </p>
    </>
  )
}

export function FirstCheckByEngine({ check, named = (name) => name }: FirstCheckProps) {
  if (check.byEngine.length === 0) return <Empty>{NONE}</Empty>
  return (
    <FigureTable
      caption="True at first check, by engine"
      heads={HEADS}
      rows={check.byEngine.map((engine) => rowOf(engine.id, named(engine.name, engine.id), engine))}
    />
  )
}

export function FirstCheckByMonth({ check }: { check: OfficeFirstCheck }) {
  if (check.all.n === 0) return null
  return (
    <PartBarsChart
      title="True at first check, by month"
      heads={['month', 'true', 'checked']}
      parts={check.byMonth.map((month) => ({
        key: month.month,
        ...monthWords(month.month),
        count: month.count,
        of: month.n,
        href: month.cranks === null ? undefined : cranksHref(month.cranks),
      }))}
      caption="Outline: cranks checked for the first time in the month. Filled: those of them inside the house limit at both ends."
    />
  )
}
