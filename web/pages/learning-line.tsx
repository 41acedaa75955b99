import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import { LearningScreen, learningHeading } from '#web/features/learning/learning-screen.tsx'
import { learningQuery } from '#web/features/learning/queries.ts'
import { PracticeProgress } from '#web/features/practice/practice-progress.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const TITLE = 'Learning line'

/** The line of somebody, for that person and the owner; the book refuses it to everybody else. */
export function LearningLinePage() {
  const { personId = '' } = useParams()
  return <LineOf personId={personId} />
}

/** One's own line, from wherever one stands. */
export function MyLinePage() {
  return <LineOf personId={useMe().id} />
}

function LineOf({ personId }: { personId: string }) {
  const me = useMe()
  const line = useQuery(learningQuery(personId))
  return (
    <ShopFrame place="office">
      {line.data === undefined ? (
        <Page title={TITLE}>
          {line.isError ? <Failed what="The line" error={line.error} onAgain={() => void line.refetch()} /> : <Loading what="the line" />}
        </Page>
      ) : (
        <Page
          title={TITLE}
          heading={learningHeading(line.data)}
          lead={`Bench hours a crank against own count, as booked. Each point opens its crank. Seen by ${line.data.person.name} and the owner only.`}
        >
          <LearningScreen learning={line.data} crankAt={(jobId) => (me.role === 'bench' ? `/bench/${jobId}` : `/jobs/${jobId}`)} />
          <PracticeProgress personId={personId} crankAt={(id) => `/bench/practice/${id}`} />
        </Page>
      )}
    </ShopFrame>
  )
}
