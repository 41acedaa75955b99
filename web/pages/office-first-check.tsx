import { FirstCheckScreen } from '#web/features/office/first-check-screen.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

/** Whether a crank is true when the second person first reads it. */
export function OfficeFirstCheckPage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="True at first check">
        <FirstCheckScreen />
      </Page>
    </ShopFrame>
  )
}
