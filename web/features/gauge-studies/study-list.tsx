import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { GaugeStudyRow } from '#contract/gauge-studies.ts'
import { studiesQuery } from '#web/features/gauge-studies/queries.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { More } from '#web/ui/more.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

function stateWords({ state, taken, wanted }: GaugeStudyRow): string {
  if (state === 'given-up') return 'given up'
  return state === 'all-in' ? 'all in' : `${taken} of ${wanted} readings in`
}

/** Every study, newest first. */
export function StudyList() {
  const { zone } = useHere()
  const studies = useInfiniteQuery(studiesQuery)
  if (studies.isPending) return <Loading what="the studies" />
  if (studies.isError) return <Failed what="The studies" error={studies.error} onAgain={() => void studies.refetch()} />
  const rows = studies.data.pages.flatMap((page) => page.rows)
  const today = dateIn(zone, Date.now())
  const columns: readonly Column<GaugeStudyRow>[] = [
    { id: 'name', head: 'Study', cell: (row) => <Link to={`/bench/gauge-studies/${row.id}`}>{row.name}</Link>, narrow: 'main' },
    { id: 'what', head: 'What is read', cell: (row) => `${row.what}, ${row.instrument.name}` },
    { id: 'started', head: 'Started', cell: (row) => `${day(dateIn(zone, row.startedAt), today)}, ${row.startedBy}` },
    { id: 'state', head: 'How far', cell: stateWords, narrow: 'right' },
  ]
  return (
    <>
      <Table
        caption="Gauge studies"
        columns={columns}
        rows={rows}
        rowKey={(row) => row.id}
        empty="No study yet. Five cranks, two or three people, twice each: an hour, twice a year."
      />
      {rows.length > 0 && (
        <More
          shown={rows.length}
          more={studies.hasNextPage}
          busy={studies.isFetchingNextPage}
          onMore={() => void studies.fetchNextPage()}
        />
      )}
    </>
  )
}
