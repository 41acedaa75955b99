import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { BY_OPTIONS, CameBack, LotsNotChance } from '#web/features/office/came-back.tsx'
import { comebacksOf, runningOf } from '#web/features/office/queries.ts'
import { Running } from '#web/features/office/running.tsx'
import { comebacksSearch, windowAsked } from '#web/features/office/search.ts'
import { Fetched, Section } from '#web/features/office/section.tsx'
import { WindowFilter } from '#web/features/office/window-filter.tsx'
import { dateIn } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { Pick } from '#web/ui/pick.tsx'

/** Rows shown at first, and with every “show more”. */
const ROWS = 12

/** What came back in the days that the address names, by what it names, and how long the cranks run. */
export function CameBackScreen() {
  const { zone } = useHere()
  const [state, change] = useSearchState(comebacksSearch)
  const asked = windowAsked(state, dateIn(zone, Date.now()))
  const cameBack = useQuery(comebacksOf({ ...asked, by: state.by }))
  const running = useQuery(runningOf(state.lot === undefined ? {} : { lot: state.lot }))
  const [most, setMost] = useState(ROWS)
  const { data } = cameBack
  return (
    <>
      <WindowFilter state={state} counted={data} onChange={change} />
      <Section name={`What came back, by ${state.by}`}>
        <div className="choices">
          <Pick label="By" options={BY_OPTIONS} value={state.by} onChange={(by) => change({ by })} />
        </div>
        <Fetched query={cameBack} what="what came back">
          {(given) => (
            <>
              <LotsNotChance cameBack={given} />
              <CameBack
                cameBack={given}
                most={most}
                more={() => setMost(most + ROWS)}
                narrowed={asked.from !== undefined || asked.to !== undefined}
                {...(given.by === 'lot'
                  ? { beside: (row) => <CurveButton lot={row.key} name={row.name} shown={state.lot} onShow={change} /> }
                  : {})}
              />
            </>
          )}
        </Fetched>
      </Section>
      <Section name="Still running, by hours ridden">
        <Fetched query={running} what="what still runs">
          {(given) => (
            <>
              {given.lot !== undefined && (
                <p className="narrowed">
                  {given.lot.name} against all other kits.{' '}
                  <button type="button" className="plain" onClick={() => change({ lot: undefined })}>
                    All kits in one line
                  </button>
                </p>
              )}
              <Running running={given} />
            </>
          )}
        </Fetched>
      </Section>
    </>
  )
}

interface CurveButtonProps {
  lot: string | null
  name: string
  shown: string | undefined
  onShow(change: { lot: string }): void
}

function CurveButton({ lot, name, shown, onShow }: CurveButtonProps) {
  if (lot === null) return null
  return lot === shown ? (
    <small>(its line is below)</small>
  ) : (
    <button type="button" className="plain" onClick={() => onShow({ lot })}>
      its line<span className="spoken">, {name}</span>
    </button>
  )
}
