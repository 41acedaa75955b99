import '#web/pages/quiet-line.css'
import { useSyncExternalStore } from 'react'
import { newVersion } from '#web/lib/outbox/new-version.ts'

/** Says that a newer book lies ready; it is loaded when the hand has a moment, and never by itself. */
export function NewVersionLine() {
  const isReady = useSyncExternalStore(newVersion.subscribe, newVersion.isReady)
  return (
    <div role="status">
      {isReady && (
        <p className="quiet-line">
          A newer book is ready. What is half typed on this page would go; what waits on the tablet stays.{' '}
          <button type="button" className="plain" onClick={newVersion.take}>
            Load it now
          </button>
        </p>
      )}
    </div>
  )
}
