import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { z } from 'zod'
import type { Customer } from '#contract/customers.ts'
import { customerListQuery } from '#web/features/customers/queries.ts'
import { monthOf, reachWords } from '#web/features/customers/words.ts'
import { counted, money } from '#web/lib/format.ts'
import { type Here, useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { TextField } from '#web/ui/field.tsx'
import { More } from '#web/ui/more.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

const search = z.object({ q: z.string().max(100).default('') })
const REST_MS = 200

/** Everybody whose crank was here, by name; what is typed stands in the address. */
export function CustomerList() {
  const here = useHere()
  const [{ q }, change] = useSearchState(search)
  const list = useInfiniteQuery(customerListQuery(useSettled(q.trim(), REST_MS)))
  const rows = (list.data?.pages ?? []).flatMap((page) => page.rows)
  return (
    <>
      <div className="narrow-field">
        <TextField
          label="Find by name, phone or mail"
          value={q}
          maxLength={100}
          autoComplete="off"
          onChange={(event) => change({ q: event.target.value }, { replace: true })}
        />
      </div>
      {list.isPending && <Loading what="the customers" />}
      {list.isError && <Failed what="The list" error={list.error} onAgain={() => void list.refetch()} />}
      {list.isSuccess && (
        <div className="plain-rows">
          <Table
            caption="Customers"
            columns={columnsOf(here)}
            rows={rows}
            rowKey={(row) => row.id}
            empty={
              q.trim() === ''
                ? 'Nobody is in the book yet. Whoever brings a crank is written down at booking.'
                : `Nobody fits “${q.trim()}”.`
            }
          />
          {rows.length > 0 && (
            <More shown={rows.length} more={list.hasNextPage} busy={list.isFetchingNextPage} onMore={() => void list.fetchNextPage()} />
          )}
        </div>
      )}
    </>
  )
}

function columnsOf(here: Here): Column<Customer>[] {
  return [
    {
      id: 'name',
      head: 'Name',
      narrow: 'under',
      cell: (row) => <Link to={`/customers/${row.id}`}>{row.name}</Link>,
    },
    { id: 'reach', head: 'How to reach them', narrow: 'under', cell: (row) => reachWords(row) },
    {
      id: 'cranks',
      head: 'Cranks here',
      narrow: 'under',
      cell: (row) => (
        <small>
          {row.cranksHere === 0 ? 'none yet' : counted(row.cranksHere, 'crank')}
          {row.lastTag !== undefined && `, last ${row.lastTag}${row.lastOn === undefined ? '' : ` ${monthOf(row.lastOn)}`}`}
        </small>
      ),
    },
    {
      id: 'owes',
      head: 'To pay',
      figures: true,
      narrow: 'under',
      cell: (row) =>
        row.owes > 0 ? (
          <>
            <span className="fig">{money(row.owes, here.currency)}</span> <small className="narrow-only">to pay</small>
          </>
        ) : null,
    },
  ]
}
