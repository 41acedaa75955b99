import { CallsDue } from '#web/features/comebacks/calls-due.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

/** Whom to ring after their crank went home. */
export function CallsPage() {
  return (
    <ShopFrame place="counter" roles={['counter', 'owner']}>
      <Page title="To ring" lead="Does it run? Those that are well are only known by asking.">
        <CallsDue />
      </Page>
    </ShopFrame>
  )
}
