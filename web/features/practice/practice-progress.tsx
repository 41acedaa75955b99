import '#web/features/practice/practice.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import type { PracticeLine } from '#contract/practice.ts'
import { PracticeLines } from '#web/features/practice/practice-lines.tsx'
import { practiceListQuery } from '#web/features/practice/queries.ts'
import { dialText } from '#web/features/practice/words.ts'
import { figure } from '#web/lib/format.ts'
import { More } from '#web/ui/more.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

type Scored = PracticeLine & { score: NonNullable<PracticeLine['score']> }

/** How somebody's practice goes, beside their learning line and apart from it: no point of the line, never fitted. */
export function PracticeProgress({ personId, crankAt }: { personId: string; crankAt(id: string): string }) {
  const runs = useInfiniteQuery(practiceListQuery(personId))
  return (
    <section className="practice-progress" aria-labelledby="practice-progress">
      <h2 id="practice-progress" className="ruled">
        Practice, apart from the line
      </h2>
      {runs.isPending && <Loading what="the practice" />}
      {runs.isError && runs.data === undefined && <Failed what="The practice" error={runs.error} onAgain={() => void runs.refetch()} />}
      {runs.data !== undefined && (
        <Progress rows={runs.data.pages.flatMap((page) => page.rows)} crankAt={crankAt}>
          <More
            shown={runs.data.pages.reduce((sum, page) => sum + page.rows.length, 0)}
            more={runs.hasNextPage}
            busy={runs.isFetchingNextPage}
            onMore={() => void runs.fetchNextPage()}
          />
        </Progress>
      )}
    </section>
  )
}

interface ProgressProps {
  rows: readonly PracticeLine[]
  crankAt(id: string): string
  children: ReactNode
}

function Progress({ rows, crankAt, children }: ProgressProps) {
  const scored = rows.filter((row): row is Scored => row.score !== undefined)
  if (scored.length === 0) return <p className="soft">No practice crank was put down yet.</p>
  return (
    <>
      <p className="soft">Made-up cranks with hidden faults. They count nowhere in the shop, and the line is not fitted to them.</p>
      <dl className="says practice-last">
        <LastTen scored={scored.slice(0, 10)} />
      </dl>
      <PracticeLines rows={scored} crankAt={crankAt} empty="" />
      {children}
    </>
  )
}

function LastTen({ scored }: { scored: readonly Scored[] }) {
  const called = scored.filter((row) => row.called !== 'left')
  const right = called.filter((row) => row.score.calledRight)
  const brought = right.filter((row) => row.called === 'true' && row.score.moves > 0 && row.score.goodMoves > 0)
  const ratio = geometricMean(brought.map((row) => row.score.moves / row.score.goodMoves))
  const said = scored.flatMap((row) => row.score.saidOffMm ?? [])
  const wrongWay = scored.reduce((sum, row) => sum + row.score.wrongWay, 0)
  const moves = scored.reduce((sum, row) => sum + row.score.moves, 0)
  return (
    <>
      <dt>Called rightly{scored.length > 1 && `, of the last ${scored.length}`}</dt>
      <dd>
        {right.length} of {called.length} called
      </dd>
      <dt>Moves for one of a good hand, where brought in</dt>
      <dd>{ratio === undefined ? '–' : figure(ratio, 1)}</dd>
      <dt>Said wrong by, mean, mm</dt>
      <dd>{said.length === 0 ? '–' : dialText(said.reduce((sum, one) => sum + one, 0) / said.length)}</dd>
      <dt>Moves the wrong way</dt>
      <dd>
        {wrongWay} of {moves}
      </dd>
    </>
  )
}

function geometricMean(values: readonly number[]): number | undefined {
  return values.length === 0 ? undefined : Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length)
}
