import { PeopleList } from '#web/features/people/people-list.tsx'
import { OpenSessions } from '#web/features/sessions/open-sessions.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

export function PeoplePage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="People" lead="Whoever leaves is barred, never taken out: their name stands on what they did.">
        <PeopleList sessions={(one, isMe) => <OpenSessions of={isMe ? 'me' : one.id} name={one.name} />} />
      </Page>
    </ShopFrame>
  )
}
