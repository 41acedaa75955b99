import { useQuery } from '@tanstack/react-query'
import { useEffect } from 'react'
import { useParams } from 'react-router'
import { yourCrankQuery } from '#web/features/certificates/queries.ts'
import { YourCrankScreen } from '#web/features/certificates/your-crank-screen.tsx'
import { Problem } from '#web/lib/problem.ts'
import { MAIN_ID, useTitle } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** A secret link stays out of every list: the server says so in a header, and the page by itself for whoever reads only that. */
function useUnlisted(): void {
  useEffect(() => {
    const meta = document.createElement('meta')
    meta.name = 'robots'
    meta.content = 'noindex, nofollow'
    document.head.append(meta)
    return () => meta.remove()
  }, [])
}

/** The date where the reader is; it only says which days are of another year. */
function today(): string {
  const now = new Date()
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`
}

/** Where a crank is, for whoever has its link; no sign-in. */
export function YourCrankPage() {
  const { token = '' } = useParams()
  const crank = useQuery(yourCrankQuery(token))
  useUnlisted()
  useTitle(crank.data === undefined ? 'Your crank' : `${crank.data.tag}, your crank`)
  return (
    <main id={MAIN_ID} className="public" tabIndex={-1}>
      {crank.data !== undefined ? (
        <>
          <p className="soft">
            {crank.data.shop} · tag {crank.data.tag} · {crank.data.engine}
          </p>
          <h1 tabIndex={-1}>{crank.data.headline}</h1>
          <YourCrankScreen crank={crank.data} token={token} today={today()} />
        </>
      ) : crank.isError ? (
        <>
          <h1>Your crank</h1>
          {crank.error instanceof Problem && crank.error.type === 'not-found' ? (
            <p>This link leads to no crank. It may have been cut short on its way, or replaced by a newer one. Ask the shop for it.</p>
          ) : (
            <Failed what="Your crank" error={crank.error} onAgain={() => void crank.refetch()} />
          )}
        </>
      ) : (
        <>
          <h1>Your crank</h1>
          <Loading what="your crank" />
        </>
      )}
    </main>
  )
}
