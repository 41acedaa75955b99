import { OwnPin } from '#web/features/people/own-pin.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

export function OwnPinPage() {
  const me = useMe()
  return (
    <ShopFrame place="counter">
      <Page title="Your PIN">
        <OwnPin hasPin={me.hasPin} />
      </Page>
    </ShopFrame>
  )
}
