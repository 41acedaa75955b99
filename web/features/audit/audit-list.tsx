import '#web/features/audit/audit.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { AuditLine } from '#contract/audit.ts'
import type { Person } from '#contract/people.ts'
import { AuditFilters } from '#web/features/audit/audit-filters.tsx'
import { auditQuery } from '#web/features/audit/queries.ts'
import { type AuditSearch, auditSearch, EVERYTHING } from '#web/features/audit/search.ts'
import { counted, dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { Changes } from '#web/ui/differences.tsx'
import { More } from '#web/ui/more.tsx'
import { Empty, Failed, Loading } from '#web/ui/states.tsx'

/** Who changed what, newest first: what stood before, what stands after, and why. What is looked at stands in the address. */
export function AuditList({ people }: { people: readonly Person[] }) {
  const [asked, change] = useSearchState(auditSearch)
  const list = useInfiniteQuery(auditQuery(asked.id !== '' && asked.thing === '' ? { ...asked, id: '' } : asked))
  const lines = (list.data?.pages ?? []).flatMap((page) => page.rows)
  return (
    <>
      <AuditFilters asked={asked} people={people} onChange={change} />
      {asked.id !== '' && (
        <p className="audit-only">
          Only {lines.find((line) => line.about.id === asked.id && line.about.says !== '')?.about.says ?? 'this one'}.{' '}
          <button type="button" className="plain" onClick={() => change({ id: '' })}>
            Show all of its kind
          </button>
        </p>
      )}
      {list.isPending && <Loading what="the audit" />}
      {list.isError && <Failed what="The audit" error={list.error} onAgain={() => void list.refetch()} />}
      {list.isSuccess && lines.length === 0 && (
        <Empty>{isEverything(asked) ? 'Nothing has been written down yet.' : 'Nothing of this kind has been written down.'}</Empty>
      )}
      {lines.length > 0 && (
        <>
          <ol className="audit">
            {lines.map((line) => (
              <li key={line.seq}>
                <Line line={line} isAlone={asked.id !== ''} />
              </li>
            ))}
          </ol>
          <More shown={lines.length} more={list.hasNextPage} busy={list.isFetchingNextPage} onMore={() => void list.fetchNextPage()} />
        </>
      )}
    </>
  )
}

function isEverything(asked: AuditSearch): boolean {
  return Object.entries(EVERYTHING).every(([name, value]) => asked[name as keyof AuditSearch] === value)
}

/** As many changes as are read at a glance; more open when they are asked for. */
const AT_A_GLANCE = 4

function Line({ line, isAlone }: { line: AuditLine; isAlone: boolean }) {
  const { zone } = useHere()
  const { about, changes } = line
  const caption = `What changed: ${line.did}${about.says === '' ? '' : `, ${about.says}`}`
  return (
    <>
      <p className="audit-head">
        <small className="audit-when">{dayAndTime(line.at, zone, Date.now())}</small>{' '}
        <span>
          <b>{line.by ?? (line.byId === undefined ? 'The book itself' : 'Somebody')}</b> {line.did}
          <About about={about} />
          {line.reason !== undefined && <> · why: “{line.reason}”</>}
          {!isAlone && about.thing !== undefined && about.id !== undefined && (
            <small>
              {' '}
              · <Link to={`/office/audit?thing=${about.thing}&id=${about.id}`}>history</Link>
            </small>
          )}
        </span>
      </p>
      {line.kept === 'out-of-sight' && <p className="soft">A first reading: its figures are hidden until the second is in.</p>}
      {line.kept === 'taken-out' && <p className="soft">What it said was taken out; its place in the chain stands.</p>}
      {changes.length > 0 && changes.length <= AT_A_GLANCE && <Changes rows={changes} caption={caption} />}
      {changes.length > AT_A_GLANCE && (
        <details>
          <summary>
            {counted(changes.length, 'field')}:{' '}
            {changes
              .slice(0, AT_A_GLANCE)
              .map((one) => one.label)
              .join(', ')}{' '}
            …
          </summary>
          <Changes rows={changes} caption={caption} />
        </details>
      )}
    </>
  )
}

/** Where each kind of thing is looked at. */
const PAGES: Readonly<Partial<Record<NonNullable<AuditLine['about']['thing']>, (id: string) => string>>> = {
  job: (id) => `/jobs/${id}`,
  customer: (id) => `/customers/${id}`,
  engine: (id) => `/engines/${id}`,
  instrument: () => '/bench/instruments',
  person: () => '/office/people',
  tablet: () => '/office/tablets',
}

function About({ about }: Pick<AuditLine, 'about'>) {
  if (about.says === '') return null
  const page = about.thing === undefined || about.id === undefined ? undefined : PAGES[about.thing]?.(about.id)
  return <>: {page === undefined ? about.says : <Link to={page}>{about.says}</Link>}</>
}
