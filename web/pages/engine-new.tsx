import { useNavigate } from 'react-router'
import { EngineNew } from '#web/features/engines/engine-new.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

export function EngineNewPage() {
  const navigate = useNavigate()
  return (
    <ShopFrame place="counter" action={null}>
      <Page
        title="A new sheet"
        lead="Maker, code and what lies under the dials are enough to begin; figures can follow one by one. How many throws it has is written on the sheet once it is made."
      >
        <EngineNew onMade={(id) => void navigate(`/engines/${id}`, { replace: true })} onLeave={() => void navigate('/engines')} />
      </Page>
    </ShopFrame>
  )
}
