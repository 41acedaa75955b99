import { Component, type ReactNode } from 'react'
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

interface PageNetProps {
  /** Where the page is; going elsewhere tries again. */
  at?: string
  children: ReactNode
}

/** A net under a page: what breaks in it leaves words and a way on. */
export class PageNet extends Component<PageNetProps, { broke: boolean; error: unknown }> {
  override state = { broke: false, error: undefined as unknown }

  static getDerivedStateFromError(error: unknown) {
    return { broke: true, error }
  }

  override componentDidUpdate(before: PageNetProps) {
    if (this.state.broke && before.at !== this.props.at) this.setState({ broke: false, error: undefined })
  }

  override render() {
    return this.state.broke ? <Broken error={this.state.error} /> : this.props.children
  }
}
