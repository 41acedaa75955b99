import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { CertificateMadeWith } from '#contract/instrument-checks.ts'
import { isPast, VERDICT_WORDS } from '#core/certificate-figures.ts'
import { madeWithCsv, madeWithQuery } from '#web/features/instruments/queries.ts'
import { counted, dateIn, day, dayAndTime, figure } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Button } from '#web/ui/button.tsx'
import { More } from '#web/ui/more.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

interface MadeWithProps {
  id: string
  /** The certificates around this fault; unless said, those since its last good check. */
  fault: string | undefined
  crankAt(jobId: string): string
  onNow(): void
}

/** Certificates that rest on its readings since its last good check: what has to be looked at when it turns out wrong. */
export function MadeWith({ id, fault, crankAt, onNow }: MadeWithProps) {
  const { zone } = useHere()
  const made = useInfiniteQuery(madeWithQuery(id, fault))
  if (made.isPending) return <Loading what="the certificates" />
  if (made.isError) return <Failed what="The certificates" error={made.error} onAgain={() => void made.refetch()} />
  const now = Date.now()
  const today = dateIn(zone, now)
  const [first] = made.data.pages
  if (first === undefined) return null
  const rows = made.data.pages.flatMap((page) => page.rows)
  const from =
    first.since === null
      ? 'No good check is written down before, so all are listed.'
      : `Since its last good check, ${dayAndTime(first.since, zone, now)}`
  const to = first.until === null ? '' : `, until the next good one, ${dayAndTime(first.until, zone, now)}`
  const columns: readonly Column<CertificateMadeWith>[] = [
    { id: 'number', head: 'Certificate', cell: (row) => row.number, narrow: 'tag' },
    { id: 'tag', head: 'Crank', cell: (row) => <Link to={crankAt(row.jobId)}>{row.tag}</Link>, whole: true, narrow: 'main' },
    { id: 'made', head: 'Made', cell: (row) => day(row.issuedOn, today), whole: true, narrow: 'right' },
    {
      id: 'verdict',
      head: 'Said',
      cell: (row) => (isPast(row.verdict) ? <Over>{VERDICT_WORDS[row.verdict]}</Over> : VERDICT_WORDS[row.verdict]),
    },
    {
      id: 'margin',
      head: 'Room to our limit, mm',
      cell: (row) => (row.marginMm === undefined ? '' : figure(row.marginMm, 4)),
      figures: true,
    },
    { id: 'stands', head: 'Now', cell: (row) => (row.stands ? 'stands' : 'void or replaced'), narrow: 'left-out' },
  ]
  return (
    <section aria-labelledby="made-with">
      <h2 id="made-with">
        Certificates made with it <small>{counted(first.n, 'certificate')}</small>
      </h2>
      <p className="soft">
        {first.since === null ? from : `${from}${to}.`} Room: our limit less the reading and its give-or-take, at the nearer end.{' '}
        <a className="whole csv" href={madeWithCsv(id, fault)} download>
          CSV<span className="spoken">, certificates made with it</span>
        </a>
      </p>
      {fault !== undefined && <Button onClick={onNow}>Those of now</Button>}
      <Table
        caption="Certificates made with it"
        columns={columns}
        rows={rows}
        rowKey={(row) => row.id}
        empty="No certificate rests on its readings in this time."
      />
      {rows.length > 0 && (
        <More
          shown={rows.length}
          total={first.n}
          more={made.hasNextPage}
          busy={made.isFetchingNextPage}
          onMore={() => void made.fetchNextPage()}
        />
      )}
    </section>
  )
}
