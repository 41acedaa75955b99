import { useQuery } from '@tanstack/react-query'
import { Navigate, useNavigate } from 'react-router'
import { z } from 'zod'
import { doorQuery, meQuery } from '#web/features/sessions/queries.ts'
import { SignInForm } from '#web/features/sessions/sign-in-form.tsx'
import { WayIn } from '#web/features/way-in/way-in.tsx'
import { homeOf } from '#web/lib/places.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { Page } from '#web/ui/page.tsx'

// Only a path of this book: `//elsewhere` and `/\elsewhere` would leave it.
const search = z.object({
  to: z
    .string()
    .regex(/^\/(?![/\\])/)
    .optional()
    .catch(undefined),
})

export function SignInPage() {
  const door = useQuery(doorQuery)
  const who = useQuery(meQuery)
  const [{ to }] = useSearchState(search)
  const navigate = useNavigate()
  // A new book has nobody to sign in yet.
  if (door.data?.setUp === false) return <Navigate to="/set-up" replace />
  if (who.data) return <Navigate to={to ?? homeOf(who.data.role)} replace />
  return (
    <Page title="Sign in" heading={door.data?.shop ?? 'Sign in'} lead={door.data?.demo ? 'Demo book. Nothing in it is real.' : undefined}>
      <div className="door">
        <WayIn />
        <SignInForm
          onIn={(me) => {
            void navigate(to ?? homeOf(me.role), { replace: true })
          }}
        />
      </div>
    </Page>
  )
}
