import { Link } from 'react-router'
import { Page } from '#web/ui/page.tsx'

export function NotFoundPage() {
  return (
    <Page title="Nothing here">
      <p>There is no page at this address. A tag may be mistyped, or what was here has another place now.</p>
      <p>
        <Link className="stand-alone" to="/">
          To the start
        </Link>
      </p>
    </Page>
  )
}
