import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { z } from 'zod'
import type { EngineRow } from '#contract/engines.ts'
import { engineListQuery } from '#web/features/engines/queries.ts'
import { engineLine, engineName } from '#web/features/engines/words.ts'
import { counted } from '#web/lib/format.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { TextField } from '#web/ui/field.tsx'
import { More } from '#web/ui/more.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

const search = z.object({ q: z.string().max(100).default('') })
const REST_MS = 200

const COLUMNS: readonly Column<EngineRow>[] = [
  {
    id: 'engine',
    head: 'Engine',
    narrow: 'under',
    cell: (row) => <Link to={`/engines/${row.id}`}>{engineName(row)}</Link>,
  },
  { id: 'line', head: 'By its sheet, mm', narrow: 'under', cell: (row) => engineLine(row) },
  {
    id: 'cranks',
    head: 'Cranks here',
    narrow: 'under',
    cell: (row) => <small>{row.cranksHere === 0 ? 'none yet' : counted(row.cranksHere, 'crank')}</small>,
  },
]

/** Our model sheets, by maker and code. */
export function EngineList() {
  const [{ q }, change] = useSearchState(search)
  const list = useInfiniteQuery(engineListQuery(useSettled(q.trim(), REST_MS)))
  const rows = (list.data?.pages ?? []).flatMap((page) => page.rows)
  return (
    <>
      <div className="narrow-field">
        <TextField
          label="Find by maker or code"
          value={q}
          maxLength={100}
          autoComplete="off"
          onChange={(event) => change({ q: event.target.value }, { replace: true })}
        />
      </div>
      {list.isPending && <Loading what="the sheets" />}
      {list.isError && <Failed what="The list" error={list.error} onAgain={() => void list.refetch()} />}
      {list.isSuccess && (
        <div className="plain-rows">
          <Table
            caption="Engines"
            columns={COLUMNS}
            rows={rows}
            rowKey={(row) => row.id}
            empty={q.trim() === '' ? 'No sheet is in the book yet. Make the first one.' : `No sheet fits “${q.trim()}”.`}
          />
          {rows.length > 0 && (
            <More shown={rows.length} more={list.hasNextPage} busy={list.isFetchingNextPage} onMore={() => void list.fetchNextPage()} />
          )}
        </div>
      )}
    </>
  )
}
