import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { instrumentsQuery } from '#web/features/instruments/queries.ts'
import { zeroedOf } from '#web/features/instruments/words.ts'
import { dateIn } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useNow } from '#web/lib/use-clock.ts'

const MINUTE_MS = 60_000

/** `2 of 5 zeroed today`, on the way to the list of them; nothing where no instrument is zeroed. */
export function ZeroedToday() {
  const { zone } = useHere()
  const now = useNow(MINUTE_MS)
  const all = useQuery(instrumentsQuery)
  const { read, done } = zeroedOf(all.data ?? [], dateIn(zone, now), zone)
  if (read.length === 0) return null
  return (
    <p>
      <Link className="stand-alone" to="/bench/instruments">
        {done} of {read.length} zeroed today
      </Link>
      {done < read.length && <span className="soft"> Before the day’s work: look at the zero of each.</span>}
    </p>
  )
}
