import { useNavigate } from 'react-router'
import { PracticeBench } from '#web/features/practice/practice-bench.tsx'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { Page } from '#web/ui/page.tsx'

/** Made-up cranks to learn on. */
export function PracticePage() {
  const navigate = useNavigate()
  return (
    <BenchPlace>
      <Page
        title="Practice crank"
        lead="A made-up crank with faults that you cannot see. It is in no figure of the shop; the owner sees how you come on."
      >
        <PracticeBench onTaken={(id) => navigate(`/bench/practice/${id}`)} />
      </Page>
    </BenchPlace>
  )
}
