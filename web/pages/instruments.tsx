import { Link } from 'react-router'
import { Register } from '#web/features/instruments/register.tsx'
import { ZeroList } from '#web/features/instruments/zero-list.tsx'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { Page } from '#web/ui/page.tsx'

export function InstrumentsPage() {
  return (
    <BenchPlace>
      <Page
        title="Instruments"
        lead="What is overdue for its check or in doubt signs no certificate."
        aside={
          <Link className="stand-alone" to="/bench/gauge-studies">
            Gauge studies
          </Link>
        }
      >
        <ZeroList />
        <h2>In the register</h2>
        <Register />
      </Page>
    </BenchPlace>
  )
}
