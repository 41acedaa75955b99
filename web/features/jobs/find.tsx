import '#web/features/jobs/find.css'
import { useQuery, useQueryClient } from '@tanstack/react-query'
import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { Link, useLocation, useNavigate } from 'react-router'
import type { z } from 'zod'
import type { found } from '#contract/find.ts'
import { parseTag } from '#core/tag.ts'
import { findQuery } from '#web/features/jobs/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { FindBox } from '#web/ui/find-box.tsx'

type Found = z.infer<typeof found>['rows'][number]

const PLACE_OF: Readonly<Record<Found['what'], string>> = { job: '/jobs', customer: '/customers', engine: '/engines' }
const REST_MS = 150

function addressOf(row: Found): string {
  return `${PLACE_OF[row.what]}/${row.id}`
}

/**
 * The find box with what it finds while one types. Arrow keys go through the list, Enter opens the one under the focus, and
 * Enter in the box opens the first. Typed words never leave the page, so a half-typed name is not lost by looking.
 */
export function Find() {
  const [typed, setTyped] = useState('')
  const [open, setOpen] = useState(false)
  const root = useRef<HTMLDivElement>(null)
  const navigate = useNavigate()
  const client = useQueryClient()
  const { pathname } = useLocation()
  const asked = useSettled(typed.trim(), REST_MS)
  const answer = useQuery(findQuery(asked))
  const rows = asked === '' ? [] : (answer.data?.rows ?? [])
  const shown = open && typed.trim() !== ''

  // Arriving anywhere ends the search.
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new address is the reason, though nothing in here reads it
  useEffect(() => {
    setTyped('')
    setOpen(false)
  }, [pathname])

  useEffect(() => {
    const onElsewhere = (event: Event) => {
      if (event.target instanceof Node && !root.current?.contains(event.target)) setOpen(false)
    }
    document.addEventListener('pointerdown', onElsewhere)
    document.addEventListener('focusin', onElsewhere)
    return () => {
      document.removeEventListener('pointerdown', onElsewhere)
      document.removeEventListener('focusin', onElsewhere)
    }
  }, [])

  const shut = () => {
    setTyped('')
    setOpen(false)
  }

  const openFirst = async (text: string) => {
    setOpen(true)
    const now = await client.fetchQuery(findQuery(text)).catch(() => undefined)
    const first = now?.rows[0]
    if (first === undefined) return
    shut()
    void navigate(addressOf(first))
  }

  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>) => {
    const links = Array.from(root.current?.querySelectorAll<HTMLElement>('a.found-row') ?? [])
    const box = root.current?.querySelector<HTMLInputElement>('input')
    const at = links.indexOf(document.activeElement as HTMLElement)
    if (event.key === 'ArrowDown' && links.length > 0) {
      event.preventDefault()
      links[Math.min(at + 1, links.length - 1)]?.focus()
    } else if (event.key === 'ArrowUp' && at >= 0) {
      event.preventDefault()
      if (at === 0) box?.focus()
      else links[at - 1]?.focus()
    } else if (event.key === 'Escape' && at >= 0) {
      event.preventDefault()
      box?.focus()
      setOpen(false)
    }
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: arrow keys pass from the box to its list and back
    <div className="find-all" ref={root} onKeyDown={onKeyDown}>
      <FindBox
        value={typed}
        onChange={(text) => {
          setTyped(text)
          setOpen(true)
        }}
        onFind={(text) => void openFirst(text)}
      >
        {shown ? (
          <>
            <p className="found-count" role="status">
              {answer.isError ? inWords(answer.error) : whatWasFound(typed.trim(), asked, rows.length, answer.isFetching)}
            </p>
            {rows.length > 0 && (
              <ul>
                {rows.map((row) => (
                  <li key={`${row.what} ${row.id}`}>
                    <Link className="found-row" to={addressOf(row)} onClick={shut}>
                      <b>{row.title}</b> <small>{row.says}</small>
                    </Link>
                  </li>
                ))}
              </ul>
            )}
          </>
        ) : undefined}
      </FindBox>
    </div>
  )
}

function whatWasFound(typed: string, asked: string, count: number, fetching: boolean): string {
  if (count > 0) return `${count} found. Arrow keys choose, Enter opens.`
  if (fetching || typed !== asked) return 'Looking…'
  const tag = parseTag(typed)
  if (!tag.ok && tag.reason === 'wrong-letter') return tag.detail
  return `Nothing found for “${typed}”. Part of a name, a phone, an engine number or a model will do.`
}
