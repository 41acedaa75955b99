import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { proofsQuery } from '#web/features/proofs/queries.ts'
import { warning } from '#web/features/proofs/words.ts'
import { useHere } from '#web/lib/here.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { Over } from '#web/ui/notice.tsx'

/** For the head of the office: nothing while the backups hold. */
export function BackupWarning() {
  const { zone } = useHere()
  const now = useNow(60_000)
  const all = useQuery(proofsQuery)
  const wrong = all.data && warning(all.data, zone, now)
  if (wrong === undefined) return null
  return (
    <p>
      <Over>{wrong}</Over>{' '}
      <Link className="stand-alone" to="/office/backup">
        To the backup
      </Link>
    </p>
  )
}
