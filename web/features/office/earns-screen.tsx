import { useQuery } from '@tanstack/react-query'
import { EarnsByEngine } from '#web/features/office/earns.tsx'
import { earningOf } from '#web/features/office/queries.ts'
import { earningSearch, windowAsked } from '#web/features/office/search.ts'
import { Fetched, Section } from '#web/features/office/section.tsx'
import { WindowFilter } from '#web/features/office/window-filter.tsx'
import { dateIn } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'

/** What an hour at the bench brings, by engine, in the days that the address names. */
export function EarnsScreen() {
  const { zone } = useHere()
  const [state, change] = useSearchState(earningSearch)
  const earning = useQuery(earningOf(windowAsked(state, dateIn(zone, Date.now()))))
  return (
    <>
      <WindowFilter state={state} counted={earning.data} onChange={change} />
      <Section name="By engine, the least for an hour first">
        <Fetched query={earning} what="what earns">
          {(data) => <EarnsByEngine earning={data} />}
        </Fetched>
      </Section>
    </>
  )
}
