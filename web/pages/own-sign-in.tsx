import { Link } from 'react-router'
import { OwnPassword } from '#web/features/people/own-password.tsx'
import { OpenSessions } from '#web/features/sessions/open-sessions.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

/** What is one's own at the door: where one is signed in, the password, the way to the PIN. */
export function OwnSignInPage() {
  const me = useMe()
  return (
    <ShopFrame place="counter">
      <Page title="Your password and sessions" lead={`You sign in as ${me.signIn}.`}>
        <h2>Where you are signed in</h2>
        <OpenSessions of="me" name={me.name} />
        <h2>Your password</h2>
        <OwnPassword name={me.name} signIn={me.signIn} />
        <p>
          <Link to="/pin">Your PIN for the bench tablets</Link> has a page of its own.
        </p>
      </Page>
    </ShopFrame>
  )
}
