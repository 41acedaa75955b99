import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { z } from 'zod'
import type { sameLotRow } from '#contract/comebacks.ts'
import { CAUSE_WORDS } from '#core/comeback.ts'
import { doneWord } from '#core/steps.ts'
import { sameLotQuery } from '#web/features/comebacks/queries.ts'
import { counted, day } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'
import { More } from '#web/ui/more.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'
import { tagColumn } from '#web/ui/tag-column.tsx'

type SameLot = z.infer<typeof sameLotRow>

/** The other cranks with a kit of the same lot: they should hear from the shop first. */
export function SameLotList({ reportId, today }: { reportId: string; today: string }) {
  const here = useHere()
  const lot = useInfiniteQuery(sameLotQuery(reportId))
  const first = lot.data?.pages[0]
  const rows = (lot.data?.pages ?? []).flatMap((page) => page.rows)
  return (
    <section aria-label="Who else has the lot">
      <h2>{first?.kit === undefined ? 'Who else has the lot' : `Who else has lot ${first.kit.lot}`}</h2>
      {lot.isPending && <Loading what="who else has the lot" />}
      {lot.isError && <Failed what="Who else has the lot" error={lot.error} onAgain={() => void lot.refetch()} />}
      {first !== undefined && first.kit === undefined && <p className="soft">No kit was named for it, so no lot is known.</p>}
      {first?.kit !== undefined && (
        <>
          <p>
            {first.kit.maker} {first.kit.part}: {counted(first.gone, 'crank')} with this lot went home, this one among them; {first.back} of{' '}
            {first.gone} came back.
          </p>
          <Table
            caption={`Other cranks with lot ${first.kit.lot}`}
            columns={columnsOf(today, seesCustomers(here.role))}
            rows={rows}
            rowKey={(row) => row.id}
            empty="No other crank has a kit of this lot."
          />
          {rows.length > 0 && (
            <More shown={rows.length} more={lot.hasNextPage} busy={lot.isFetchingNextPage} onMore={() => void lot.fetchNextPage()} />
          )}
        </>
      )}
    </section>
  )
}

function heardWords(row: SameLot, today: string): string {
  const { lastHeard } = row
  if (lastHeard === undefined) return 'not heard of since'
  const ridden = lastHeard.hours === undefined ? '' : ` at ${lastHeard.hours} h`
  return `heard ${day(lastHeard.day, today)}: ${lastHeard.runs ? 'runs well' : 'does not run well'}${ridden}`
}

function columnsOf(today: string, withNames: boolean): Column<SameLot>[] {
  const whose: Column<SameLot> = {
    id: 'whose',
    head: 'Whose',
    narrow: 'under',
    cell: (row) => (
      <>
        {row.whose}
        {row.phone !== undefined && (
          <>
            {' · '}
            <a href={`tel:${row.phone.replace(/[^\d+]/g, '')}`}>{row.phone}</a>
          </>
        )}
        {row.mail !== undefined && (
          <>
            {' · '}
            <a href={`mailto:${row.mail}`}>{row.mail}</a>
          </>
        )}
      </>
    ),
  }
  return [
    tagColumn({ tag: (row) => row.tag, to: (row) => `/jobs/${row.id}` }),
    { id: 'engine', head: 'Engine', narrow: 'main', cell: (row) => row.engine },
    ...(withNames ? [whose] : []),
    {
      id: 'where',
      head: 'Where it is',
      narrow: 'under',
      cell: (row) =>
        row.goneOn === undefined
          ? `in the house, ${doneWord(row.state)}`
          : `went home ${day(row.goneOn, today)}, ${row.stillOut ? 'still out' : 'here again since'}`,
    },
    {
      id: 'heard',
      head: 'Last heard',
      narrow: 'under',
      cell: (row) =>
        row.comeback === undefined ? (
          row.goneOn !== undefined && <span className={row.lastHeard === undefined ? 'soft' : undefined}>{heardWords(row, today)}</span>
        ) : (
          <>
            <Link to={`/office/comebacks/${row.comeback.id}`}>came back {day(row.comeback.day, today)}</Link>
            {row.comeback.cause !== undefined && `: ${CAUSE_WORDS[row.comeback.cause]}`}
          </>
        ),
    },
  ]
}
