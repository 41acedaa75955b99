import '#web/features/comebacks/comebacks.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { z } from 'zod'
import { COMEBACK_LISTS, type ComebackRow } from '#contract/comebacks.ts'
import type { Person } from '#contract/people.ts'
import { CAUSE_WORDS, COMEBACK_CAUSES } from '#core/comeback.ts'
import { comebackListQuery } from '#web/features/comebacks/queries.ts'
import { decidedWords, foundWords, riddenWords } from '#web/features/comebacks/words.ts'
import { counted, day } from '#web/lib/format.ts'
import { seesCustomers, useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { SelectField, TextField } from '#web/ui/field.tsx'
import { More } from '#web/ui/more.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'
import { tagColumn } from '#web/ui/tag-column.tsx'

const search = z.object({
  list: z.enum(COMEBACK_LISTS).default('all'),
  cause: z.enum(COMEBACK_CAUSES).or(z.literal('')).default(''),
  lot: z.string().max(60).default(''),
  person: z.uuid().or(z.literal('')).default(''),
  engine: z.uuid().or(z.literal('')).default(''),
})
const REST_MS = 250

const LISTS: Readonly<Record<(typeof COMEBACK_LISTS)[number], { name: string; empty: string }>> = {
  all: { name: 'All', empty: 'No crank of ours has come back.' },
  open: { name: 'Cause open', empty: 'No report waits for its cause.' },
  struck: { name: 'Struck out', empty: 'No report was struck out.' },
}

/** What came back, those without a cause first; cut by cause, lot, builder or engine. */
export function ComebackList({ hands }: { hands: readonly Pick<Person, 'id' | 'name' | 'role'>[] }) {
  const here = useHere()
  const [{ list, cause, lot, person, engine }, change] = useSearchState(search)
  const lotAsked = useSettled(lot.trim(), REST_MS)
  const isCut = [cause, lot.trim(), person, engine].some((one) => one !== '')
  const comebacks = useInfiniteQuery(
    comebackListQuery({
      list,
      ...(cause === '' ? {} : { cause }),
      ...(lotAsked === '' ? {} : { lot: lotAsked }),
      ...(person === '' ? {} : { person }),
      ...(engine === '' ? {} : { engine }),
    }),
  )
  const first = comebacks.data?.pages[0]
  const rows = (comebacks.data?.pages ?? []).flatMap((page) => page.rows)
  return (
    <>
      <nav className="comeback-ways" aria-label="Lists">
        {COMEBACK_LISTS.toSorted((one) => (one === 'all' ? -1 : 1)).map((one) => (
          <Link
            key={one}
            to={one === 'all' ? '/office/comebacks' : `/office/comebacks?list=${one}`}
            aria-current={one === list ? 'page' : undefined}
          >
            {LISTS[one].name}
            {first !== undefined && one !== 'struck' && <span className="count"> {first.counts[one]}</span>}
          </Link>
        ))}
      </nav>
      <div className="comeback-cuts">
        <SelectField
          label="Cause"
          nothing="any"
          choices={COMEBACK_CAUSES.map((value) => ({ value, label: CAUSE_WORDS[value] }))}
          value={cause}
          onChange={(event) => change({ cause: event.target.value as typeof cause }, { replace: true })}
        />
        <TextField
          label="Lot of the kit"
          maxLength={60}
          autoComplete="off"
          value={lot}
          onChange={(event) => change({ lot: event.target.value }, { replace: true })}
        />
        <SelectField
          label="Built by"
          nothing="anybody"
          choices={hands.filter((hand) => hand.role !== 'counter').map((hand) => ({ value: hand.id, label: hand.name }))}
          value={person}
          onChange={(event) => change({ person: event.target.value }, { replace: true })}
        />
      </div>
      {engine !== '' && (
        <p>
          Only {rows[0]?.engine ?? 'one engine'}.{' '}
          <button type="button" className="plain" onClick={() => change({ engine: '' })}>
            Show every engine
          </button>
        </p>
      )}
      {comebacks.isPending && <Loading what="what came back" />}
      {comebacks.isError && <Failed what="The list" error={comebacks.error} onAgain={() => void comebacks.refetch()} />}
      {first !== undefined && (
        <>
          <Table
            caption="What came back"
            columns={columnsOf(first.today, seesCustomers(here.role))}
            rows={rows}
            rowKey={(row) => row.id}
            empty={isCut ? 'Nothing that came back fits this.' : LISTS[list].empty}
          />
          {rows.length > 0 && (
            <More
              shown={rows.length}
              more={comebacks.hasNextPage}
              busy={comebacks.isFetchingNextPage}
              onMore={() => void comebacks.fetchNextPage()}
            />
          )}
        </>
      )}
    </>
  )
}

function columnsOf(today: string, withNames: boolean): Column<ComebackRow>[] {
  return [
    tagColumn({ tag: (row) => row.job.tag, to: (row) => `/office/comebacks/${row.id}` }),
    {
      id: 'engine',
      head: 'Engine',
      narrow: 'main',
      cell: (row) => (
        <>
          <Link className="by-engine" to={`/office/comebacks?engine=${row.engineId}`}>
            {row.engine}
          </Link>
          {withNames && row.whose !== undefined && <small> · {row.whose}</small>}
        </>
      ),
    },
    {
      id: 'day',
      head: 'Came back',
      narrow: 'under',
      cell: (row) => (
        <>
          {day(row.day, today)}, {row.newJob === undefined ? row.how : <span className="whole">here as {row.newJob.tag}</span>}
          <br />
          <small>
            {riddenWords(row)}
            {row.daysSince !== undefined && `, ${counted(row.daysSince, 'day')}`}
            {row.lot !== undefined && (
              <>
                , <span className="whole">lot {row.lot}</span>
              </>
            )}
            {!row.counts && ' · not counted'}
          </small>
        </>
      ),
    },
    {
      id: 'found',
      head: 'Said and found',
      narrow: 'under',
      cell: (row) => {
        const found = foundWords(row)
        return (
          <>
            {row.says !== undefined && <>“{row.says}” </>}
            {found === '' ? <small>not looked at yet</small> : <b>{found}</b>}
          </>
        )
      },
    },
    {
      id: 'cause',
      head: 'Decided',
      narrow: 'under',
      cell: (row) => decidedWords(row) ?? <small>cause open</small>,
    },
  ]
}
