import '#web/features/jobs/book-list.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { z } from 'zod'
import { JOB_LISTS } from '#contract/book.ts'
import type { JobRow } from '#contract/jobs.ts'
import { actWord, doneWord, isEnd, nextStep } from '#core/steps.ts'
import { type JobList, jobListQuery } from '#web/features/jobs/queries.ts'
import { KIND_WORDS, lateWords, whereWords, whyItStands } from '#web/features/jobs/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { type Here, useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { JobShaft } from '#web/ui/job-shaft.tsx'
import { More } from '#web/ui/more.tsx'
import { Over } from '#web/ui/notice.tsx'
import { useTitle } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'
import { tagColumn } from '#web/ui/tag-column.tsx'

/** What the address says: which of the lists. `bench` is the bench's own and has its page there. */
const search = z.object({ list: z.enum(JOB_LISTS).exclude(['bench']).default('house') })
type Shown = Exclude<JobList, 'bench'>

const LIST_WORDS: Readonly<Record<Shown, { name: string; heading: string; empty: string }>> = {
  house: { name: 'In the house', heading: 'In the house', empty: 'No crank is in the house. Book one in and it stands here.' },
  late: { name: 'Late', heading: 'Late', empty: 'Nothing is late: no promise before today stands on a crank that is not signed.' },
  'waiting-kit': { name: 'Waiting for kit', heading: 'Waiting for kit', empty: 'No crank waits for a kit.' },
  'waiting-yes': { name: 'Waiting for a yes', heading: 'Waiting for a yes', empty: 'No quote is out without an answer.' },
  ready: { name: 'Ready to go home', heading: 'Ready to go home', empty: 'No crank is ready to go home.' },
  gone: { name: 'Gone', heading: 'Gone', empty: 'No crank has gone home yet.' },
  all: { name: 'All', heading: 'All cranks', empty: 'Nothing is in the book yet. Book one in and it stands here.' },
}
const ORDER: readonly Shown[] = ['house', 'late', 'waiting-kit', 'waiting-yes', 'ready', 'gone', 'all']

interface Counts {
  house: number
  late: number
  waitingKit: number
  waitingYes: number
  ready: number
}

function countOf(list: Shown, counts: Counts): number | undefined {
  if (list === 'waiting-kit') return counts.waitingKit
  if (list === 'waiting-yes') return counts.waitingYes
  return list === 'gone' || list === 'all' ? undefined : counts[list]
}

/** The book: every crank in the house by promise, and the lists that are cut from it. */
export function BookList() {
  const [{ list }] = useSearchState(search)
  const here = useHere()
  const book = useInfiniteQuery(jobListQuery(list))
  const pages = book.data?.pages ?? []
  const first = pages[0]
  const rows = pages.flatMap((page) => page.rows)
  const total = first === undefined ? undefined : countOf(list, first.counts)
  const words = LIST_WORDS[list]
  const heading = `${words.heading}${total === undefined ? '' : `: ${total}`}${list === 'gone' || list === 'all' ? '' : ', by promise'}`
  useTitle(heading)
  return (
    <>
      <div className="page-head">
        <h1 tabIndex={-1}>{heading}</h1>
        <ListLinks here={list} counts={first?.counts} />
      </div>
      {first === undefined && book.isPending && <Loading what="the book" />}
      {book.isError && <Failed what="The book" error={book.error} onAgain={() => void book.refetch()} />}
      {first !== undefined && (
        <div className="book">
          <Table caption={heading} columns={columnsOf(here, first.today)} rows={rows} rowKey={(row) => row.id} empty={words.empty} />
          {rows.length > 0 && (
            <More
              shown={rows.length}
              {...(total === undefined ? {} : { total })}
              more={book.hasNextPage}
              busy={book.isFetchingNextPage}
              onMore={() => void book.fetchNextPage()}
            />
          )}
        </div>
      )}
    </>
  )
}

function ListLinks({ here, counts }: { here: Shown; counts: Counts | undefined }) {
  return (
    <nav className="list-links" aria-label="Lists">
      {ORDER.map((list) => {
        const count = counts === undefined ? undefined : countOf(list, counts)
        return (
          <Link key={list} to={list === 'house' ? '/counter' : `/counter?list=${list}`} aria-current={list === here ? 'page' : undefined}>
            {LIST_WORDS[list].name}
            {count !== undefined && <span className="count"> {count}</span>}
          </Link>
        )
      })}
    </nav>
  )
}

function columnsOf(here: Here, today: string): Column<JobRow>[] {
  return [
    tagColumn({ tag: (row) => row.tag, to: (row) => `/jobs/${row.id}` }),
    {
      id: 'whose',
      head: 'Whose, what',
      narrow: 'main',
      cell: (row) => (
        <>
          {row.whose !== undefined && (
            <>
              <b>{row.whose}</b>
              <br />
            </>
          )}
          <small>
            {row.engine}
            {row.kind !== 'rebuild' && ` · ${KIND_WORDS[row.kind]}`}
            {row.comeback && ' · came back'}
          </small>
        </>
      ),
    },
    { id: 'next', head: 'Next, and why it stands', narrow: 'under', cell: (row) => <NextCell row={row} here={here} today={today} /> },
    { id: 'promised', head: 'Promised', whole: true, narrow: 'right', cell: (row) => <PromiseCell row={row} here={here} today={today} /> },
    { id: 'where', head: 'Where, who, money', narrow: 'under', cell: (row) => <small>{whereWords(row, here)}</small> },
  ]
}

function NextCell({ row, here, today }: { row: JobRow; here: Here; today: string }) {
  const why = whyItStands(row, here, today)
  const ended = isEnd(row.state)
  return (
    <>
      <b>{isEnd(row.state) ? doneWord(row.state) : actWord(row.kind, row.state)}</b>
      {why.map((one) => (
        <small key={one}> · {one}</small>
      ))}
      {!ended && (
        <div className="book-strip">
          <JobShaft
            kind={row.kind}
            done={row.state}
            waiting={why.length > 0 && row.readySince === undefined ? why.join(', ') : undefined}
            size="strip"
          />
        </div>
      )}
    </>
  )
}

function PromiseCell({ row, here, today }: { row: JobRow; here: Here; today: string }) {
  if (isEnd(row.state) || nextStep(row.kind, row.state) === null) return <small>booked {day(dateIn(here.zone, row.bookedAt), today)}</small>
  if (row.readySince !== undefined) return <>ready</>
  if (row.promisedOn === undefined) {
    return <small>{row.wantedOn === undefined ? 'nothing promised' : `wanted ${day(row.wantedOn, today)}`}</small>
  }
  return (
    <>
      {day(row.promisedOn, today)}
      {row.late && (
        <>
          <br />
          <Over>{lateWords(row)}</Over>
        </>
      )}
    </>
  )
}
