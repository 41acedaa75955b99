import '#web/pages/quiet-line.css'
import { useQueryClient } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import type { Me } from '#contract/sessions.ts'
import { forgetBefore, meQuery } from '#web/features/sessions/queries.ts'
import { timeOfDay } from '#web/lib/format.ts'
import { get } from '#web/lib/http.ts'
import { startLive } from '#web/lib/live.ts'
import { Problem } from '#web/lib/problem.ts'

/** Keeps the screens of whoever is signed in live, and says quietly when they are not. */
export function LiveLine({ me }: { me: Me }) {
  const client = useQueryClient()
  const [lastHeard, setLastHeard] = useState<number | undefined>(undefined)
  const { id, role, endsAt } = me

  // biome-ignore lint/correctness/useExhaustiveDependencies: another end means another session, which has a stream of its own
  useEffect(() => {
    /** A session that is over opens the sign-in over the page; one that is somebody else's now starts the page afresh. */
    const isSomebodyIn = async () => {
      try {
        const now = await get<Me>('/api/session')
        if (now.id === id && now.role === role) return true
        client.setQueryData(meQuery.queryKey, now)
        forgetBefore(client)
        return true
      } catch (error) {
        if (error instanceof Problem && error.type === 'signed-out') return false
        throw error
      }
    }
    return startLive({
      client,
      isSomebodyIn,
      onEnd: () => void isSomebodyIn().catch(() => undefined),
      onAway: setLastHeard,
    })
  }, [client, id, role, endsAt])

  return (
    <p className="live-line" role="status">
      {lastHeard !== undefined && `Not live: last heard ${timeOfDay(lastHeard, Intl.DateTimeFormat().resolvedOptions().timeZone)}.`}
    </p>
  )
}
