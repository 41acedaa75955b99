import { useQuery } from '@tanstack/react-query'
import { z } from 'zod'
import { CheckSheet } from '#web/features/certificates/check-sheet.tsx'
import { doorQuery } from '#web/features/sessions/queries.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { MAIN_ID, useTitle } from '#web/ui/page.tsx'

/** What the code printed on a sheet carries. */
const search = z.object({
  number: z.string().max(20).optional().catch(undefined),
  code: z.string().max(20).optional().catch(undefined),
})

/** Whether a sheet of this shop stands, and what it says; no sign-in. */
export function CheckCertificatePage() {
  const [{ number, code }] = useSearchState(search)
  const door = useQuery(doorQuery)
  useTitle('Check a certificate')
  return (
    <main id={MAIN_ID} className="public" tabIndex={-1}>
      <p className="soft">
        {door.data?.shop}
        {door.data?.demo === true && ' · Demo book. Nothing in it is real.'}
      </p>
      <h1 tabIndex={-1}>Check a certificate</h1>
      <CheckSheet number={number} code={code} />
    </main>
  )
}
