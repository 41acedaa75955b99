import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from 'react-router'
import { studyQuery } from '#web/features/gauge-studies/queries.ts'
import { StudyScreen } from '#web/features/gauge-studies/study-screen.tsx'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export function GaugeStudyPage() {
  const { id = '' } = useParams()
  const study = useQuery(studyQuery(id))
  return (
    <BenchPlace>
      <Page
        title={study.data?.name ?? 'Gauge study'}
        aside={
          <Link className="stand-alone" to="/bench/gauge-studies">
            All studies
          </Link>
        }
      >
        {study.data !== undefined ? (
          <StudyScreen study={study.data} />
        ) : study.isError ? (
          <Failed what="The study" error={study.error} onAgain={() => void study.refetch()} />
        ) : (
          <Loading what="the study" />
        )}
      </Page>
    </BenchPlace>
  )
}
