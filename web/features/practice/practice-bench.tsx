import '#web/features/practice/practice.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { PRACTICE_LEVELS, type PracticeLevel } from '#core/practice-crank.ts'
import { PracticeLines } from '#web/features/practice/practice-lines.tsx'
import { practiceListQuery, useTakePracticeCrank } from '#web/features/practice/queries.ts'
import { LEVEL_SAYS, LEVEL_WORDS } from '#web/features/practice/words.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons, GoLink } from '#web/ui/button.tsx'
import { More } from '#web/ui/more.tsx'
import { Pick } from '#web/ui/pick.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export interface PracticeBenchProps {
  /** Goes to the crank that was taken. */
  onTaken(id: string): void
}

const crankAt = (id: string) => `/bench/practice/${id}`

/** Takes a made-up crank, or goes on with the one that is not put down; beneath it those before. */
export function PracticeBench({ onTaken }: PracticeBenchProps) {
  const own = useInfiniteQuery(practiceListQuery())
  if (own.isPending) return <Loading what="your practice" />
  if (own.data === undefined) return <Failed what="Your practice" error={own.error} onAgain={() => void own.refetch()} />
  const rows = own.data.pages.flatMap((page) => page.rows)
  const open = rows.find((row) => row.called === undefined)
  return (
    <>
      {open === undefined ? (
        <TakeCrank onTaken={onTaken} />
      ) : (
        <section className="practice-take" aria-label="On the practice bench">
          <p>A practice crank of yours is not put down yet: {LEVEL_WORDS[open.level]}.</p>
          <GoLink kind="go" to={crankAt(open.id)}>
            Go on with it
          </GoLink>
        </section>
      )}
      <section aria-labelledby="practised">
        <h2 id="practised" className="ruled">
          Put down before
        </h2>
        <PracticeLines
          rows={rows.filter((row) => row.called !== undefined)}
          crankAt={crankAt}
          empty="None yet. Each crank that you put down stands here with what came of it."
        />
        {rows.length > 0 && (
          <More shown={rows.length} more={own.hasNextPage} busy={own.isFetchingNextPage} onMore={() => void own.fetchNextPage()} />
        )}
      </section>
    </>
  )
}

function TakeCrank({ onTaken }: PracticeBenchProps) {
  const [level, setLevel] = useState<PracticeLevel>('one')
  const [id] = useState(newId)
  const take = useTakePracticeCrank()
  return (
    <section className="practice-take" aria-label="A made-up crank">
      <Pick
        label="What may be wrong with it?"
        options={PRACTICE_LEVELS.map((value) => ({ value, label: LEVEL_WORDS[value] }))}
        hint={LEVEL_SAYS[level]}
        value={level}
        onChange={setLevel}
      />
      {take.error !== null && (
        <p role="alert" className="wrong">
          No crank was taken. {inWords(take.error)}
        </p>
      )}
      <Buttons>
        <Button
          kind="go"
          busy={take.isPending}
          onClick={() =>
            take.mutateAsync({ id, level }).then(
              () => onTaken(id),
              () => undefined,
            )
          }
        >
          Take a crank
        </Button>
      </Buttons>
    </section>
  )
}
