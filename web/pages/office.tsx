import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { PeopleLines } from '#web/features/learning/people-lines.tsx'
import { peopleQuery } from '#web/features/people/queries.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const PLACES = [
  { to: '/office/people', name: 'People', says: 'who works here, who may sign' },
  { to: '/office/settings', name: 'Settings', says: 'name, zone, limits, texts' },
  { to: '/office/tablets', name: 'Bench tablets', says: 'which ones may change hands by PIN' },
  { to: '/bench/instruments', name: 'Instruments', says: 'dials and micrometers, when checked' },
  { to: '/engines', name: 'Engines', says: 'the sheets: figures and where they come from' },
] as const

/** The owner's place: for now the way to what is kept here. */
export function OfficePage() {
  const me = useMe()
  const people = useQuery({ ...peopleQuery, enabled: me.role === 'owner' })
  return (
    <ShopFrame place="office">
      <Page title="Office">
        {me.role !== 'owner' ? (
          <p>
            The office is the owner’s. <Link to="/my-line">Your own learning line</Link> is yours.
          </p>
        ) : (
          <div className="office-places">
            <h2>Kept here</h2>
            <ul className="places">
              {PLACES.map((place) => (
                <li key={place.to}>
                  <Link className="stand-alone" to={place.to}>
                    {place.name}
                  </Link>{' '}
                  <span className="soft">{place.says}</span>
                </li>
              ))}
            </ul>
            <h2>Learning lines</h2>
            {people.data !== undefined ? (
              <PeopleLines people={people.data} />
            ) : people.isError ? (
              <Failed what="The people" error={people.error} onAgain={() => void people.refetch()} />
            ) : (
              <Loading what="the people" />
            )}
          </div>
        )}
      </Page>
    </ShopFrame>
  )
}
