import '#web/features/office/office.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { crankColumns } from '#web/features/office/crank-columns.tsx'
import { Csv } from '#web/features/office/figure-foot.tsx'
import { filterWords } from '#web/features/office/filter-words.ts'
import { cranksOf } from '#web/features/office/queries.ts'
import { cranksSearch, windowWords } from '#web/features/office/search.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { More } from '#web/ui/more.tsx'
import { useTitle } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { Table } from '#web/ui/table.tsx'

const TITLE = 'Cranks behind a figure'

/** The cranks behind a figure of the office; which figure and which filters stand in the address. */
export function CrankList() {
  const [{ figure, ...filters }] = useSearchState(cranksSearch)
  if (figure === undefined) return <NoSuchList />
  return <ListOf filters={{ figure, ...filters }} />
}

function NoSuchList() {
  useTitle(TITLE)
  return (
    <>
      <h1 tabIndex={-1}>{TITLE}</h1>
      <p>
        The address names no figure. <Link to="/office">The office</Link> has them all, each with the way to its cranks.
      </p>
    </>
  )
}

function ListOf({ filters }: { filters: Parameters<typeof cranksOf>[0] }) {
  const here = useHere()
  const list = useInfiniteQuery(cranksOf(filters))
  const first = list.data?.pages[0]
  const rows = list.data?.pages.flatMap((page) => page.rows) ?? []
  const heading = first?.title ?? TITLE
  const today = dateIn(here.zone, Date.now())
  const window = { months: '12' as const, from: first?.from, to: first?.to }
  const narrowed = [
    ...(window.from === undefined ? [] : [windowWords(window, (date) => day(date, today))]),
    ...(first === undefined ? [] : filterWords(filters, rows[0])),
  ]
  useTitle(heading)
  return (
    <>
      <div className="page-head">
        <div>
          <h1 tabIndex={-1}>
            {heading}
            {first !== undefined && `: ${first.n}`}
          </h1>
          {narrowed.length > 0 && <p className="soft">{narrowed.join(' · ')}</p>}
        </div>
      </div>
      {first === undefined && list.isPending && <Loading what="the cranks" />}
      {list.isError && <Failed what="The cranks" error={list.error} onAgain={() => void list.refetch()} />}
      {first !== undefined && (
        <>
          <p className="figure-foot">
            {first.rule} <Csv address={first.csv} of={heading} />{' '}
            <Csv address={withSemicolons(first.csv)} of={heading}>
              CSV with semicolons
            </Csv>
          </p>
          <Table
            caption={heading}
            columns={crankColumns(rows, here, today)}
            rows={rows}
            rowKey={(row) => row.id}
            empty="No crank is counted here."
          />
          {rows.length > 0 && (
            <More
              shown={rows.length}
              total={first.n}
              more={list.hasNextPage}
              busy={list.isFetchingNextPage}
              onMore={() => void list.fetchNextPage()}
            />
          )}
        </>
      )}
    </>
  )
}

/** Spreadsheets of the continent want a decimal comma, and semicolons between. */
function withSemicolons(csv: string): string {
  return `${csv}${csv.includes('?') ? '&' : '?'}separator=semicolon`
}
