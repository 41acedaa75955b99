import { Tablets } from '#web/features/sessions/tablets.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

export function TabletsPage() {
  const me = useMe()
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="Bench tablets" lead="On an enrolled tablet hands change by PIN, without a password.">
        <Tablets isThisOne={me.enrolled} />
      </Page>
    </ShopFrame>
  )
}
