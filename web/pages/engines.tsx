import { EngineList } from '#web/features/engines/engine-list.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Page } from '#web/ui/page.tsx'

export function EnginesPage() {
  return (
    <ShopFrame place="counter">
      <Page
        title="Engines"
        lead="Our sheets: what each engine’s crank should measure, and who says so."
        aside={<GoLink to="/engines/new">Make a sheet</GoLink>}
      >
        <EngineList />
      </Page>
    </ShopFrame>
  )
}
