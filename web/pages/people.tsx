import { PeopleList } from '#web/features/people/people-list.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

export function PeoplePage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="People" lead="Whoever leaves is barred, never taken out: their name stands on what they did.">
        <PeopleList />
      </Page>
    </ShopFrame>
  )
}
