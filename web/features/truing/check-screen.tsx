import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import { CheckCompare } from '#web/features/truing/check-compare.tsx'
import { checkQuery } from '#web/features/truing/queries.ts'
import { ReadingScreen } from '#web/features/truing/reading-screen.tsx'
import { SET_WAITS_HERE } from '#web/features/truing/waiting.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { Known } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import '#web/features/truing/truing.css'

export interface CheckScreenProps {
  jobId: string
  personId: string
  sheet: Engine
  instruments: readonly Instrument[]
  shopLimitMm: number
  zone: string
  isOwner: boolean
  /** Beneath, once the readings settle it: the way to the certificate. */
  whenSettled: ReactNode
}

/** The second check: both ends read by another person from a fresh set-up, the first reading out of sight until theirs is in. */
export function CheckScreen({ jobId, personId, sheet, instruments, shopLimitMm, zone, isOwner, whenSettled }: CheckScreenProps) {
  const asked = useQuery(checkQuery(jobId))
  const now = useNow(60_000)
  if (asked.isPending) return <Loading what="the second check" />
  if (asked.data === undefined) return <Failed what="The second check" error={asked.error} onAgain={() => void asked.refetch()} />
  const check = asked.data
  return (
    <div className="at-bench check">
      {check.says.map((sentence) => (
        <p key={sentence}>
          <b>{sentence}</b>
        </p>
      ))}
      <CheckCompare check={check} zone={zone} now={now} />
      {check.next === null && whenSettled}
      {check.next !== null && !check.mayRead && (
        <Known>
          <p>{check.because ?? 'You cannot take this reading.'}</p>
          {check.because !== SET_WAITS_HERE && (
            <p>Somebody else takes it under their own sign-in: change hands at the head of this screen.</p>
          )}
        </Known>
      )}
      {check.next !== null && check.mayRead && (
        <>
          <p>
            {check.next === 'second'
              ? 'Lift it off and set it up afresh, by yourself. What was read before stays out of sight until your set is in.'
              : 'A third set settles it. Set it up afresh; all three are kept.'}
          </p>
          <ReadingScreen
            key={check.next}
            jobId={jobId}
            personId={personId}
            sheet={sheet}
            instruments={instruments}
            shopLimitMm={shopLimitMm}
            phase={check.next}
            since={`${check.first?.id ?? ''}:${check.second?.id ?? ''}`}
            // Where and how the first was read, without its figures: only readings of the same places can be compared.
            last={check.first}
            fresh
            mayLeaveUnread={isOwner}
            onTaken={() => void asked.refetch()}
          />
        </>
      )}
    </div>
  )
}
