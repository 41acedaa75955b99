import { CrankList } from '#web/features/office/crank-list.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { MAIN_ID } from '#web/ui/page.tsx'

/** The cranks behind a figure of the office; the heading is the list's own. */
export function OfficeCranksPage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <main id={MAIN_ID} className="page" tabIndex={-1}>
        <CrankList />
      </main>
    </ShopFrame>
  )
}
