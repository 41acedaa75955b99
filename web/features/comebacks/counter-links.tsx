import '#web/features/comebacks/comebacks.css'
import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { callCountQuery, comebackCountQuery } from '#web/features/comebacks/queries.ts'

/** From the counter to what is heard of cranks that went home; the counts come when they are known. */
export function AfterHomeLinks() {
  const calls = useQuery(callCountQuery)
  const open = useQuery(comebackCountQuery)
  return (
    <nav className="comeback-ways" aria-label="After they went home">
      <Link to="/counter/calls">
        To ring
        {calls.data !== undefined && <span className="count"> {calls.data}</span>}
      </Link>
      <Link to="/office/comebacks">
        Came back
        {open.data !== undefined && <span className="count"> {open.data}</span>}
      </Link>
    </nav>
  )
}
