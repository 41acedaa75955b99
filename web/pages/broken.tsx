import { useRouteError } from 'react-router'
import { NotUnderstood, Problem, TookTooLong, Unreachable } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed } from '#web/ui/states.tsx'

function isOfTheBook(error: unknown): boolean {
  return error instanceof Problem || error instanceof Unreachable || error instanceof TookTooLong || error instanceof NotUnderstood
}

/** What stands instead of a page that broke. A part of the page that is not on the server any more means a newer version. */
export function Broken({ error }: { error: unknown }) {
  const again = () => window.location.reload()
  return (
    <Page title="This page broke">
      {isOfTheBook(error) ? (
        <Failed what="The page" error={error} onAgain={again} />
      ) : (
        <>
          <p>
            Nothing that the book had taken is lost. Load the page again; if it breaks again, tell whoever keeps the server what you did
            last.
          </p>
          <Button onClick={again}>Load the page again</Button>
        </>
      )}
    </Page>
  )
}

export function BrokenRoute() {
  return <Broken error={useRouteError()} />
}
