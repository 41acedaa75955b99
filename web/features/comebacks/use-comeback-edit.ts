import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { Comeback, ComebackChange } from '#contract/comebacks.ts'
import { oneComebackQuery, useComebackChange } from '#web/features/comebacks/queries.ts'
import { inWords, Problem } from '#web/lib/problem.ts'

export interface ComebackEdit {
  send(change: ComebackChange, onDone: () => void): void
  busy: boolean
  /** Counts the tries, for the summary that takes the focus. */
  attempt: number
  /** Why it is not written; undefined where it is or was not tried. */
  refused: string | undefined
  /** What stands now, where somebody else wrote meanwhile; what is typed stays, and sent again it is written over that. */
  meanwhile: Comeback | undefined
}

/** One change to a report at the version that was seen when the form was opened. */
export function useComebackEdit(report: Comeback): ComebackEdit {
  const client = useQueryClient()
  const change = useComebackChange(report)
  const [seen, setSeen] = useState(report.version)
  const [attempt, setAttempt] = useState(0)
  const [refused, setRefused] = useState<string | undefined>(undefined)
  const [meanwhile, setMeanwhile] = useState<Comeback | undefined>(undefined)

  const readAnew = async () => {
    const now = await client.fetchQuery({ ...oneComebackQuery(report.id), staleTime: 0 })
    setSeen(now.version)
    setMeanwhile(now)
  }
  const fail = (error: unknown) => {
    if (error instanceof Problem && error.type === 'stale-version') readAnew().catch((again: unknown) => setRefused(inWords(again)))
    else setRefused(error instanceof Problem && error.errors[0] !== undefined ? error.errors[0].detail : inWords(error))
  }
  return {
    send(wanted, onDone) {
      if (change.isPending) return
      setAttempt(attempt + 1)
      setRefused(undefined)
      setMeanwhile(undefined)
      change.mutate({ change: wanted, version: seen }, { onSuccess: onDone, onError: fail })
    },
    busy: change.isPending,
    attempt,
    refused,
    meanwhile,
  }
}
