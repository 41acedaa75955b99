import { EarnsScreen } from '#web/features/office/earns-screen.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

/** Price against bench hours, by engine. */
export function OfficeEarnsPage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="What earns">
        <EarnsScreen />
      </Page>
    </ShopFrame>
  )
}
