import { CardSize } from '#web/features/waiting/card-size.tsx'
import { useKept } from '#web/lib/kept.ts'
import { readBack } from '#web/lib/read-back.ts'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { Install } from '#web/pages/install.tsx'
import { Page } from '#web/ui/page.tsx'
import { PickMany } from '#web/ui/pick.tsx'

/** What belongs to the tablet and not to a person: the size of its keys, how it answers, and that it opens without the network. */
export function BenchTabletPage() {
  const [ways, setWays] = useKept(readBack)
  return (
    <BenchPlace>
      <Page title="This tablet">
        <div className="tablet-parts">
          <CardSize />
          <section aria-label="When a figure is taken">
            <h2>When a figure is taken</h2>
            <PickMany
              label="This tablet"
              options={[
                { value: 'voice', label: 'says it aloud' },
                { value: 'buzz', label: 'shakes once; three times when it took nothing' },
              ]}
              value={[...ways]}
              onChange={setWays}
            />
          </section>
          <Install />
        </div>
      </Page>
    </BenchPlace>
  )
}
