import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { BY_OPTIONS, CameBack, LotsNotChance } from '#web/features/office/came-back.tsx'
import { EarnsByEngine } from '#web/features/office/earns.tsx'
import { FirstCheckByMonth, FirstCheckByPerson } from '#web/features/office/first-check.tsx'
import { Flow, FlowSays } from '#web/features/office/flow.tsx'
import { MoneyLines } from '#web/features/office/money-lines.tsx'
import { comebacksOf, earningOf, firstCheckOf, flowOf, runningOf, todayQuery } from '#web/features/office/queries.ts'
import { Running } from '#web/features/office/running.tsx'
import { comebacksSearch } from '#web/features/office/search.ts'
import { Fetched, Section } from '#web/features/office/section.tsx'
import { TodayLines } from '#web/features/office/today-lines.tsx'
import { useSearchState } from '#web/lib/search-state.ts'
import { Pick } from '#web/ui/pick.tsx'

const ROWS_HERE = 5

/** One page of truths, each with how it is counted and the way to its cranks; what else belongs to the office beneath. */
export function Overview({ children }: { children: ReactNode }) {
  const today = useQuery(todayQuery)
  const flow = useQuery(flowOf({}))
  const check = useQuery(firstCheckOf({}))
  const earning = useQuery(earningOf({}))
  return (
    <div className="office">
      <section className="office-section" aria-label="Today">
        <Fetched query={today} what="what stands in the shop today">
          {(data) => <TodayLines today={data} />}
        </Fetched>
      </section>
      <Section name="In and out, by week" to="/office/flow">
        <Fetched query={flow} what="what came in and went out">
          {(data) => (
            <>
              <Flow flow={data} />
              <FlowSays flow={data} />
            </>
          )}
        </Fetched>
      </Section>
      <ComebacksAndRunning />
      <Section name="True at first check, last 12 months" to="/office/first-check">
        <Fetched query={check} what="the first checks">
          {(data) => (
            <>
              <FirstCheckByMonth check={data} />
              <FirstCheckByPerson check={data} most={ROWS_HERE} />
            </>
          )}
        </Fetched>
      </Section>
      <Section name="What earns, last 12 months" to="/office/earns">
        <Fetched query={earning} what="what earns">
          {(data) => <EarnsByEngine earning={data} most={ROWS_HERE} />}
        </Fetched>
      </Section>
      <Section name="Money held, on the shelf and out">
        <Fetched query={today} what="the money">
          {(data) => <MoneyLines held={data.money} />}
        </Fetched>
      </Section>
      <div className="office-section office-kept">{children}</div>
    </div>
  )
}

function ComebacksAndRunning() {
  const [{ by }, change] = useSearchState(comebacksSearch)
  // The lots are always asked for: one that is not chance has to be said whatever the rows are by.
  const lots = useQuery(comebacksOf({ by: 'lot' }))
  const chosen = useQuery(comebacksOf({ by }))
  const worst = lots.data?.rows.find((row) => row.lot?.notChance)?.key ?? undefined
  const running = useQuery({ ...runningOf(worst === undefined ? {} : { lot: worst }), enabled: !lots.isPending })
  return (
    <>
      <Section name="What came back, last 12 months" to="/office/came-back">
        <div className="choices">
          <Pick label="By" options={BY_OPTIONS} value={by} onChange={(value) => change({ by: value })} />
        </div>
        <Fetched query={chosen} what="what came back">
          {(data) => (
            <>
              {lots.data !== undefined && <LotsNotChance cameBack={lots.data} />}
              <CameBack cameBack={data} most={ROWS_HERE} narrowed={false} />
            </>
          )}
        </Fetched>
      </Section>
      <Section name="Still running, by hours ridden" to="/office/came-back">
        <Fetched query={running} what="what still runs">
          {(data) => <Running running={data} />}
        </Fetched>
      </Section>
    </>
  )
}
