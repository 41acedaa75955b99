import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { PeopleLines } from '#web/features/learning/people-lines.tsx'
import { Overview } from '#web/features/office/overview.tsx'
import { peopleQuery } from '#web/features/people/queries.ts'
import { dateIn, longDay } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useNow } from '#web/lib/use-clock.ts'
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
  { to: '/office/comebacks', name: 'Came back', says: 'each report: what was found, and whose it is' },
  { to: '/office/audit', name: 'Who changed what', says: 'every change since the book was opened' },
  { to: '/office/backup', name: 'Backup', says: 'whether the book can be put back, and when that was last tried' },
] as const

/** The owner's place: what stands in the shop today, the figures of the shop, and the way to what is kept here. */
export function OfficePage() {
  const me = useMe()
  return (
    <ShopFrame place="office">
      {me.role === 'owner' ? (
        <OwnersOffice />
      ) : (
        <Page title="Office">
          <p>
            The office is the owner’s. <Link to="/my-line">Your own learning line</Link> is yours.
          </p>
        </Page>
      )}
    </ShopFrame>
  )
}

function OwnersOffice() {
  const { zone } = useHere()
  const today = dateIn(zone, useNow(60_000))
  return (
    <Page title="Office" heading={longDay(today, today)}>
      <Overview>
        <section aria-labelledby="kept-here">
          <h2 id="kept-here" className="ruled">
            Kept here
          </h2>
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
        </section>
        <LearningLines />
      </Overview>
    </Page>
  )
}

function LearningLines() {
  const people = useQuery(peopleQuery)
  return (
    <section aria-labelledby="learning-lines">
      <h2 id="learning-lines" className="ruled">
        Learning lines
      </h2>
      {people.data !== undefined ? (
        <PeopleLines people={people.data} />
      ) : people.isError ? (
        <Failed what="The people" error={people.error} onAgain={() => void people.refetch()} />
      ) : (
        <Loading what="the people" />
      )}
    </section>
  )
}
