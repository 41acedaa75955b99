import { useState } from 'react'
import { CallForm } from '#web/features/comebacks/call-form.tsx'
import type { HeardForm } from '#web/features/comebacks/heard-form.ts'
import { ReportForm } from '#web/features/comebacks/report-form.tsx'
import { Known } from '#web/ui/notice.tsx'

export interface CallOrReportProps {
  jobId: string
  today: string
  /** A report stands already: a call that something is wrong leads to no second one. */
  reported: boolean
  /** The call is written down, and the report after it where one was wanted. */
  onDone(): void
  /** Left before anything was written down. */
  onShut(): void
}

/** A call; where something is wrong, the report is offered next with what was just typed. */
export function CallOrReport({ jobId, today, reported, onDone, onShut }: CallOrReportProps) {
  const [wrong, setWrong] = useState<HeardForm | undefined>(undefined)
  if (wrong === undefined) {
    const made = (said: HeardForm | undefined) => (said === undefined || reported ? onDone() : setWrong(said))
    return <CallForm jobId={jobId} today={today} onMade={made} onShut={onShut} />
  }
  return (
    <>
      <Known>
        <p role="status">The call is written down. Something is wrong with it: write the report too?</p>
      </Known>
      <ReportForm jobId={jobId} today={today} given={wrong} onMade={onDone} onShut={onDone} />
    </>
  )
}
