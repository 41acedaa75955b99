import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { cranksHref } from '#web/features/office/search.ts'

/** A count that opens its cranks; a nought, and what has no list, stands as it is. */
export function linkedCount(n: number, query: string | null | undefined, words: ReactNode = n): ReactNode {
  return query === undefined || query === null || n === 0 ? words : <Link to={cranksHref(query)}>{words}</Link>
}
