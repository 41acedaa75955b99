import { FlowScreen } from '#web/features/office/flow-screen.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

/** What came in and what left, week by week, and how long it stays. */
export function OfficeFlowPage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="In and out">
        <FlowScreen />
      </Page>
    </ShopFrame>
  )
}
