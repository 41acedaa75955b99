import { type ReactNode, useEffect, useState } from 'react'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'

/** Nothing here, and what would be. */
export function Empty({ children }: { children: ReactNode }) {
  return <p className="soft empty">{children}</p>
}

const PATIENCE_MS = 300

/** Says what is being fetched, but only once it takes long enough to be noticed. */
export function Loading({ what }: { what: string }) {
  const [late, setLate] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => setLate(true), PATIENCE_MS)
    return () => clearTimeout(timer)
  }, [])
  return (
    <p className="soft empty" role="status">
      {late ? `Fetching ${what}…` : ''}
    </p>
  )
}

export interface FailedProps {
  /** What is not here: `The list`. */
  what: string
  error: unknown
  onAgain?: () => void
}

/** It could not be fetched: why, and what to do. */
export function Failed({ what, error, onAgain }: FailedProps) {
  return (
    <div className="problem" role="alert">
      <p>
        <b>{what} could not be fetched.</b> {inWords(error)}
      </p>
      {onAgain !== undefined && <Button onClick={onAgain}>Try again</Button>}
    </div>
  )
}
