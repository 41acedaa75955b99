import { useEffect } from 'react'

/**
 * Keeps the screen lit while a bench page is shown: with wet hands nobody wakes a tablet between two readings. Browsers
 * without it, and pages over plain http, sleep as they always did.
 */
export function useStayAwake(): void {
  useEffect(() => {
    const lock = 'wakeLock' in navigator ? navigator.wakeLock : undefined
    if (lock === undefined) return
    let held: WakeLockSentinel | undefined
    let gone = false
    const ask = () => {
      if (document.hidden) return
      lock.request('screen').then(
        (sentinel) => {
          if (gone) void sentinel.release()
          else held = sentinel
        },
        // Refused on a low battery; nothing is lost but the light.
        () => undefined,
      )
    }
    ask()
    document.addEventListener('visibilitychange', ask)
    return () => {
      gone = true
      document.removeEventListener('visibilitychange', ask)
      void held?.release()
    }
  }, [])
}
