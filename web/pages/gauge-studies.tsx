import { useQuery } from '@tanstack/react-query'
import { Link, useNavigate } from 'react-router'
import { StudyList } from '#web/features/gauge-studies/study-list.tsx'
import { instrumentsQuery } from '#web/features/instruments/queries.ts'
import { peopleQuery } from '#web/features/people/queries.ts'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { later } from '#web/ui/later.tsx'
import { Page } from '#web/ui/page.tsx'

const StartForm = later('form', async () => (await import('#web/features/gauge-studies/start-form.tsx')).StartForm)

/** How far our own eyes and instruments can be trusted. */
export function GaugeStudiesPage() {
  const instruments = useQuery(instrumentsQuery)
  const people = useQuery(peopleQuery)
  const go = useNavigate()
  return (
    <BenchPlace>
      <Page
        title="Gauge studies"
        lead="Blind readings of the same parts by two or three people: what the instrument and its people add. They count in no figure of the shop."
        aside={
          <Link className="stand-alone" to="/bench/instruments">
            Instruments
          </Link>
        }
      >
        <Fold open="Start a study">
          {(shut) => (
            <StartForm
              instruments={(instruments.data ?? []).filter((one) => !one.ended)}
              people={(people.data ?? []).filter((one) => one.role !== 'counter' && !one.barred)}
              onStarted={(study) => void go(`/bench/gauge-studies/${study.id}`)}
              onShut={shut}
            />
          )}
        </Fold>
        <StudyList />
      </Page>
    </BenchPlace>
  )
}
