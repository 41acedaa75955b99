import { useQuery } from '@tanstack/react-query'
import { JOB_KINDS } from '#core/steps.ts'
import { Flow, FlowSays, Stay } from '#web/features/office/flow.tsx'
import { flowOf } from '#web/features/office/queries.ts'
import { flowSearch, WEEKS } from '#web/features/office/search.ts'
import { Fetched, Section } from '#web/features/office/section.tsx'
import { KIND_WORDS } from '#web/features/office/words.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { Pick } from '#web/ui/pick.tsx'

const WEEK_OPTIONS = WEEKS.map((value) => ({ value, label: `${value} weeks` }))
const KIND_OPTIONS = [{ value: 'all' as const, label: 'all' }, ...JOB_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))]

/** In and out by week and the days in the house, over the weeks and of the kind that the address names. */
export function FlowScreen() {
  const [{ weeks, kind }, change] = useSearchState(flowSearch)
  const flow = useQuery(flowOf({ weeks: Number(weeks), ...(kind === 'all' ? {} : { kind }) }))
  return (
    <>
      <div className="choices">
        <Pick label="How far back" options={WEEK_OPTIONS} value={weeks} onChange={(value) => change({ weeks: value })} />
        <Pick label="Kind of job" options={KIND_OPTIONS} value={kind} onChange={(value) => change({ kind: value })} />
      </div>
      <Section name="In and out, by week">
        <Fetched query={flow} what="what came in and went out">
          {(data) => (
            <>
              <Flow flow={data} />
              <FlowSays flow={data} />
            </>
          )}
        </Fetched>
      </Section>
      <Section name="Days in the house">
        <Fetched query={flow} what="the days in the house">
          {(data) => <Stay stay={data.stay} />}
        </Fetched>
      </Section>
    </>
  )
}
