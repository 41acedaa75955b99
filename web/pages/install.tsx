import { useEffect, useState, useSyncExternalStore } from 'react'
import { Link } from 'react-router'
import { askToStay, installAsk, mayOpenOffline } from '#web/lib/outbox/installed.ts'
import { Button } from '#web/ui/button.tsx'

/** Whether this tablet opens the bench without the network, and what to do about it. */
export function Install() {
  const [stays, setStays] = useState<boolean | undefined>(undefined)
  const ask = useSyncExternalStore(installAsk.subscribe, installAsk.read)
  useEffect(() => {
    void askToStay().then(setStays)
  }, [])
  if (!mayOpenOffline())
    return (
      <section aria-label="Without the network">
        <h2>Without the network</h2>
        <p>
          This tablet reaches the book by plain http, and then no browser opens a page without the network. What you take while a bench page
          is open is still saved on the tablet. <Link to="/own-network">How to mend it</Link>
        </p>
      </section>
    )
  return (
    <section aria-label="Without the network">
      <h2>Without the network</h2>
      <p>The bench opens on this tablet without the network, with the cranks that were opened on it before, for seven days.</p>
      {stays === false && (
        <p>The browser may clear what is saved here when it runs short of room. Put the book on the home screen, and it keeps it.</p>
      )}
      {ask !== undefined && <Button onClick={() => void ask()}>Put it on the home screen</Button>}
    </section>
  )
}
