import '#web/features/waiting/waiting.css'
import { Link } from 'react-router'
import { countOf, waitingWords } from '#web/features/waiting/waiting-words.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import { useOutbox } from '#web/lib/outbox/use-outbox.ts'
import { Over } from '#web/ui/notice.tsx'

/** `Saved on this tablet, 3 waiting.` Always on the page, so that its words are read out when they come and nothing moves. */
export function WaitingLine({ personId }: { personId: string }) {
  const records = useOutbox()
  const count = countOf(records, personId, Date.now())
  const some = count.waiting + count.parked > 0
  return (
    <div className="waiting-line">
      <span role="status">{waitingWords(count)}</span>
      {count.isOld && <Over>waiting for more than a day</Over>}
      {some && <Link to="/bench/waiting">What waits</Link>}
      {count.waiting > 0 && (
        <button type="button" className="plain" onClick={() => void outbox()?.sendNow()}>
          Send now
        </button>
      )}
    </div>
  )
}
