import type { ReactNode } from 'react'
import type { ComebackEdit } from '#web/features/comebacks/use-comeback-edit.ts'
import { ProblemSummary } from '#web/ui/notice.tsx'

/** Why a change to a report is not written, or what somebody else wrote into the same part meanwhile. */
export function EditRefused({ edit, standsNow }: { edit: ComebackEdit; standsNow: ReactNode }) {
  if (edit.meanwhile !== undefined)
    return (
      <ProblemSummary title="Somebody else wrote into this report meanwhile." attempt={edit.attempt}>
        <p>Now stands: {standsNow}. What you chose is still in the form; written again, it takes the place of theirs.</p>
      </ProblemSummary>
    )
  if (edit.refused === undefined) return null
  return (
    <ProblemSummary title="It is not written." attempt={edit.attempt}>
      <p>{edit.refused}</p>
    </ProblemSummary>
  )
}
