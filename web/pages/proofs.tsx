import { ProofsScreen } from '#web/features/proofs/proofs-screen.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

export function ProofsPage() {
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="Backup" lead="A backup that was never put back is a hope. Every night one is.">
        <ProofsScreen />
      </Page>
    </ShopFrame>
  )
}
