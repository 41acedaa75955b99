import '#web/pages/quiet-line.css'
import { Link } from 'react-router'
import { type Kept, kept, useKept } from '#web/lib/kept.ts'

/** Whether somebody at this tablet has read the line and put it away. */
export const plainHttpRead: Kept<boolean> = kept<boolean>(
  'throwbook.plain-http-read',
  false,
  (text) => (text === 'yes' ? true : undefined),
  (read) => (read ? 'yes' : 'no'),
)

/** What a tablet lacks that reaches the book by plain http: browsers give these to pages that came by https only. */
export function PlainHttpLine() {
  const [read, setRead] = useKept(plainHttpRead)
  if (read || window.isSecureContext !== false) return null
  return (
    <p className="quiet-line" role="note">
      <span>Plain http: the screen sleeps, no offline, no installing.</span>
      <Link to="/own-network">How to mend it</Link>
      <button type="button" className="plain" onClick={() => setRead(true)}>
        Leave it so
      </button>
    </p>
  )
}
