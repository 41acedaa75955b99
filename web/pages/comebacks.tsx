import { useQuery } from '@tanstack/react-query'
import { ComebackList } from '#web/features/comebacks/comeback-list.tsx'
import { peopleQuery } from '#web/features/people/queries.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

/** Every crank that came back, or is talked about as failed. The counter reads it too. */
export function ComebacksPage() {
  const { role } = useMe()
  const people = useQuery(peopleQuery)
  return (
    <ShopFrame place={role === 'owner' ? 'office' : 'counter'}>
      <Page
        title="Came back"
        lead={role === 'bench' ? undefined : 'To report one, find the crank by its tag, number or name; its page has “It came back”.'}
      >
        <ComebackList hands={people.data ?? []} />
      </Page>
    </ShopFrame>
  )
}
