import { useEffect, useState } from 'react'

/** The time now, told again every `everyMs`. Hidden pages are not told; they catch up when shown. */
export function useNow(everyMs = 1000): number {
  const [now, setNow] = useState(() => Date.now())
  useEffect(() => {
    const tell = () => {
      if (!document.hidden) setNow(Date.now())
    }
    const timer = setInterval(tell, everyMs)
    document.addEventListener('visibilitychange', tell)
    return () => {
      clearInterval(timer)
      document.removeEventListener('visibilitychange', tell)
    }
  }, [everyMs])
  return now
}

/** Whole seconds gone since an instant (RFC 3339); never under 0, since two clocks may disagree by a little. */
export function secondsSince(instant: string, nowMs: number): number {
  const from = Date.parse(instant)
  if (Number.isNaN(from)) throw new RangeError('secondsSince needs an instant')
  return Math.max(0, Math.floor((nowMs - from) / 1000))
}

/** Seconds that a running clock has counted; undefined while nothing runs. */
export function useElapsed(startedAt: string | undefined): number | undefined {
  const now = useNow()
  return startedAt === undefined ? undefined : secondsSince(startedAt, now)
}
