import { CameBackScreen } from '#web/features/office/came-back-screen.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

/** Comebacks by lot, engine, person or cause, and how long the cranks run. */
export function OfficeCameBackPage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="What came back">
        <CameBackScreen />
      </Page>
    </ShopFrame>
  )
}
