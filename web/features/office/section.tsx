import '#web/features/office/office.css'
import type { UseQueryResult } from '@tanstack/react-query'
import { type ReactNode, useId } from 'react'
import { Link } from 'react-router'
import { Failed, Loading } from '#web/ui/states.tsx'

export interface SectionProps {
  name: string
  /** The page that shows more of it. */
  to?: string
  children: ReactNode
}

/** One figure of the office under its heading; the way to its own page stands opposite. */
export function Section({ name, to, children }: SectionProps) {
  const heading = useId()
  return (
    <section className="office-section" aria-labelledby={heading}>
      <div className="office-head ruled">
        <h2 id={heading}>{name}</h2>
        {to !== undefined && (
          <Link to={to}>
            more<span className="spoken">: {name}</span>
          </Link>
        )}
      </div>
      {children}
    </section>
  )
}

export interface FetchedProps<Data> {
  query: UseQueryResult<Data>
  /** What is fetched, in the middle of a sentence: `what came back`. */
  what: string
  children(data: Data): ReactNode
}

/** What was asked for, or that it is on its way, or why it is not here and how to ask again. */
export function Fetched<Data>({ query, what, children }: FetchedProps<Data>) {
  if (query.data !== undefined) return <div aria-busy={query.isPlaceholderData || undefined}>{children(query.data)}</div>
  if (query.isError) {
    return <Failed what={`${what.charAt(0).toUpperCase()}${what.slice(1)}`} error={query.error} onAgain={() => void query.refetch()} />
  }
  return <Loading what={what} />
}
