import '#web/features/jobs/bench.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { JobRow } from '#contract/jobs.ts'
import { actWord, isEnd } from '#core/steps.ts'
import { jobListQuery } from '#web/features/jobs/queries.ts'
import { KIND_WORDS, lateWords, waitWords } from '#web/features/jobs/words.ts'
import { counted, day } from '#web/lib/format.ts'
import { type Here, useHere } from '#web/lib/here.ts'
import { More } from '#web/ui/more.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** Rows by what the hand does next; groups and rows in the order they came, which is by promise. */
export function byAct(rows: readonly JobRow[]): { act: string; rows: JobRow[] }[] {
  const groups: { act: string; rows: JobRow[] }[] = []
  for (const row of rows) {
    if (isEnd(row.state)) continue
    const act = actWord(row.kind, row.state)
    const group = groups.find((one) => one.act === act)
    if (group === undefined) groups.push({ act, rows: [row] })
    else group.rows.push(row)
  }
  return groups
}

/** Cranks that the hand can do something on now, the oldest promise first. */
export function BenchList() {
  const here = useHere()
  const bench = useInfiniteQuery(jobListQuery('bench'))
  if (bench.isPending) return <Loading what="the bench" />
  if (bench.isError && bench.data === undefined) return <Failed what="The bench" error={bench.error} onAgain={() => void bench.refetch()} />
  const pages = bench.data?.pages ?? []
  const rows = pages.flatMap((page) => page.rows)
  const today = pages[0]?.today
  if (rows.length === 0 || today === undefined)
    return (
      <p className="soft">
        Nothing is for the bench just now. What waits for a kit, for a yes or for the counter stands here again after it.
      </p>
    )
  return (
    <>
      {byAct(rows).map((group) => (
        <section key={group.act} aria-label={group.act}>
          <h2 className="ruled">
            {group.act} <small>{counted(group.rows.length, 'crank')}</small>
          </h2>
          <ul className="bench-rows">
            {group.rows.map((row) => (
              <li key={row.id}>
                <BenchRow row={row} here={here} today={today} />
              </li>
            ))}
          </ul>
        </section>
      ))}
      <More shown={rows.length} more={bench.hasNextPage} busy={bench.isFetchingNextPage} onMore={() => void bench.fetchNextPage()} />
    </>
  )
}

function BenchRow({ row, here, today }: { row: JobRow; here: Here; today: string }) {
  const notes = [
    row.kind === 'rebuild' ? undefined : KIND_WORDS[row.kind],
    row.comeback ? 'came back' : undefined,
    row.place,
    row.holder === undefined ? undefined : `${row.holder} has it`,
    ...row.waiting.map((one) => waitWords(one, here, today)),
  ].filter((one) => one !== undefined && one !== '')
  return (
    <Link className="bench-row" to={`/bench/${row.id}`}>
      <span className="fig bench-tag">{row.tag}</span>
      <span className="bench-what">
        <b>{row.engine}</b>
        {notes.length > 0 && <small>{notes.join(' · ')}</small>}
      </span>
      <span className="bench-promise">
        {row.promisedOn === undefined ? <small>nothing promised</small> : day(row.promisedOn, today)}
        {row.late && <Over>{lateWords(row)}</Over>}
      </span>
    </Link>
  )
}
