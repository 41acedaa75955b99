import { useQuery } from '@tanstack/react-query'
import { createContext, useContext, useEffect, useRef } from 'react'
import { Navigate, Outlet, useLocation } from 'react-router'
import type { Me } from '#contract/sessions.ts'
import { ScanOpens } from '#web/features/jobs/scan-opens.tsx'
import { meQuery } from '#web/features/sessions/queries.ts'
import { homeOf } from '#web/lib/places.ts'
import { LiveLine } from '#web/pages/live-line.tsx'
import { MAIN_ID } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const Who = createContext<Me | undefined>(undefined)

/** Who is signed in; for pages beneath SignedIn. */
export function useMe(): Me {
  const me = useContext(Who)
  if (me === undefined) throw new Error('useMe needs a page that asks for a sign-in')
  return me
}

/** Going to another page puts the focus on its heading, as loading a page would. */
function useArrival(): void {
  const { pathname } = useLocation()
  const from = useRef(pathname)
  useEffect(() => {
    if (from.current === pathname) return
    from.current = pathname
    document.querySelector<HTMLElement>(`#${MAIN_ID} h1`)?.focus({ preventScroll: true })
  }, [pathname])
}

/** Every page that is not public lies beneath this. */
export function SignedIn() {
  const who = useQuery(meQuery)
  const { pathname, search, hash } = useLocation()
  useArrival()
  if (who.isPending) return <Loading what="the book" />
  if (who.data === undefined) return <Failed what="The book" error={who.error} onAgain={() => void who.refetch()} />
  if (who.data === null) {
    const back = `${pathname}${search}${hash}`
    return <Navigate to={back === '/' ? '/sign-in' : `/sign-in?to=${encodeURIComponent(back)}`} replace />
  }
  return (
    <Who value={who.data}>
      <LiveLine me={who.data} />
      <ScanOpens at={who.data.role === 'bench' || pathname.startsWith('/bench') ? 'bench' : 'jobs'} />
      <Outlet />
    </Who>
  )
}

/** The address without a path leads to the person's own place. */
export function Home() {
  return <Navigate to={homeOf(useMe().role)} replace />
}
