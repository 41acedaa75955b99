import { useQuery } from '@tanstack/react-query'
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import { FirstCheckByEngine, FirstCheckByMonth, FirstCheckByPerson } from '#web/features/office/first-check.tsx'
import { firstCheckOf } from '#web/features/office/queries.ts'
import { firstCheckSearch, windowAsked } from '#web/features/office/search.ts'
import { Fetched, Section } from '#web/features/office/section.tsx'
import { WindowFilter } from '#web/features/office/window-filter.tsx'
import { dateIn } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useSearchState } from '#web/lib/search-state.ts'

/** True at first check in the days that the address names, of one person or one engine where it names those. */
export function FirstCheckScreen() {
  const { zone } = useHere()
  const [state, change] = useSearchState(firstCheckSearch)
  const { person, engine } = state
  const check = useQuery(
    firstCheckOf({
      ...windowAsked(state, dateIn(zone, Date.now())),
      ...(person === undefined ? {} : { person }),
      ...(engine === undefined ? {} : { engine }),
    }),
  )
  return (
    <>
      <WindowFilter state={state} counted={check.data} onChange={change} />
      {(person !== undefined || engine !== undefined) && (
        <p className="narrowed">
          {narrowedWords(check.data)}{' '}
          <button type="button" className="plain" onClick={() => change({ person: undefined, engine: undefined })}>
            All persons and engines
          </button>
        </p>
      )}
      {check.data?.all.n !== 0 && (
        <Section name="By month">
          <Fetched query={check} what="the first checks">
            {(data) => <FirstCheckByMonth check={data} />}
          </Fetched>
        </Section>
      )}
      <div className="office">
        <Section name="By person">
          <Fetched query={check} what="the first checks by person">
            {(data) => (
              <FirstCheckByPerson
                check={data}
                named={(name, id) => (id === null || id === person ? name : <Only name={name} onOnly={() => change({ person: id })} />)}
              />
            )}
          </Fetched>
        </Section>
        <Section name="By engine">
          <Fetched query={check} what="the first checks by engine">
            {(data) => (
              <FirstCheckByEngine
                check={data}
                named={(name, id) => (id === null || id === engine ? name : <Only name={name} onOnly={() => change({ engine: id })} />)}
              />
            )}
          </Fetched>
        </Section>
      </div>
    </>
  )
}

function Only({ name, onOnly }: { name: string; onOnly(): void }) {
  return (
    <button type="button" className="plain" onClick={onOnly}>
      <span className="spoken">only </span>
      {name}
    </button>
  )
}

function narrowedWords(check: OfficeFirstCheck | undefined): string {
  if (check === undefined) return ''
  const who = check.person === undefined ? [] : [`that ${check.byPerson[0]?.name ?? 'this person'} called true`]
  const what = check.engine === undefined ? [] : [`of ${check.byEngine[0]?.name ?? 'this engine'}`]
  return `Only cranks ${[...what, ...who].join(' ')}.`
}
