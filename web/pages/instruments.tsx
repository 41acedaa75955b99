import { Register } from '#web/features/instruments/register.tsx'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { Page } from '#web/ui/page.tsx'

export function InstrumentsPage() {
  return (
    <BenchPlace>
      <Page title="Instruments" lead="What is overdue for its check signs no certificate.">
        <Register />
      </Page>
    </BenchPlace>
  )
}
