import { useQuery } from '@tanstack/react-query'
import { Navigate, useNavigate } from 'react-router'
import { doorQuery } from '#web/features/sessions/queries.ts'
import { SetUpForm } from '#web/features/sessions/set-up-form.tsx'
import { WayIn } from '#web/features/way-in/way-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** The first visit to a new book. Once it has an owner this page leads to the sign-in. */
export function SetUpPage() {
  const door = useQuery(doorQuery)
  const navigate = useNavigate()
  if (door.isPending) return <Loading what="the book" />
  if (door.isError) return <Failed what="The book" error={door.error} onAgain={() => void door.refetch()} />
  if (door.data.setUp) return <Navigate to="/sign-in" replace />
  return (
    <Page title="The first visit" lead="The book is new. Whoever has the code printed where the server was started becomes its owner.">
      <div className="door">
        <WayIn />
        <SetUpForm onIn={() => void navigate('/office/settings', { replace: true })} />
      </div>
    </Page>
  )
}
