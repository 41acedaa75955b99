import '#web/styles/lists.css'
import type { ReactNode } from 'react'
import { Link, NavLink } from 'react-router'
import type { Role } from '#contract/people.ts'
import { Find } from '#web/features/jobs/find.tsx'
import { homeOf } from '#web/lib/places.ts'
import { Frame } from '#web/pages/frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithShop } from '#web/pages/with-shop.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Page } from '#web/ui/page.tsx'

type Ways = readonly { to: string; name: string; roles: readonly Role[] }[]

/** What lies within the counter. The bench reads the sheets of engines too. */
const COUNTER_WAYS: Ways = [
  { to: '/counter', name: 'In the house', roles: ['counter', 'owner'] },
  { to: '/customers', name: 'Customers', roles: ['counter', 'owner'] },
  { to: '/engines', name: 'Engines', roles: ['counter', 'owner', 'bench'] },
]

/** What lies within the office. */
const OFFICE_WAYS: Ways = [
  { to: '/office', name: 'The office', roles: ['owner'] },
  { to: '/office/people', name: 'People', roles: ['owner'] },
  { to: '/office/tablets', name: 'Tablets', roles: ['owner'] },
  { to: '/office/settings', name: 'Settings', roles: ['owner'] },
  { to: '/office/audit', name: 'Who changed what', roles: ['owner'] },
]

export interface ShopFrameProps {
  place: 'counter' | 'office'
  /** Whose page it is; for anybody else it says so instead of showing an empty one. */
  roles?: readonly Role[]
  /** Instead of “Book one in”. */
  action?: ReactNode
  /** A Page. */
  children: ReactNode
}

/** Bar, find box, the ways within the place, and the shop that the page is said in. */
export function ShopFrame({ place, roles, action, children }: ShopFrameProps) {
  const { role } = useMe()
  const ways = (place === 'counter' ? COUNTER_WAYS : OFFICE_WAYS).filter((way) => way.roles.includes(role))
  const mayBook = role !== 'bench'
  return (
    <Frame
      find={<Find />}
      action={action === undefined && mayBook && place === 'counter' ? <GoLink to="/counter/book-in">Book one in</GoLink> : action}
      menu={
        <>
          <p>
            <Link to="/pin">Your PIN for the bench tablets</Link>
          </p>
          <p>
            <Link to="/my-sign-in">Your password and sessions</Link>
          </p>
          {role !== 'counter' && (
            <p>
              <Link to="/my-line">Your learning line</Link>
            </p>
          )}
        </>
      }
    >
      {ways.length > 1 && (
        <nav className="place-links" aria-label={place === 'counter' ? 'At the counter' : 'In the office'}>
          {ways.map((way) => (
            <NavLink key={way.to} to={way.to} end>
              {way.name}
            </NavLink>
          ))}
        </nav>
      )}
      {roles === undefined || roles.includes(role) ? <WithShop>{children}</WithShop> : <NotYours home={homeOf(role)} />}
    </Frame>
  )
}

function NotYours({ home }: { home: string }) {
  return (
    <Page title="Not your page">
      <p>This page belongs to another place of the shop. What is yours is in its own place.</p>
      <p>
        <Link className="stand-alone" to={home}>
          To your place
        </Link>
      </p>
    </Page>
  )
}
