import type { Truing } from '#contract/truing.ts'
import type { MoveSaid } from '#web/features/truing/last-move.ts'
import { useStrikeOut } from '#web/features/truing/queries.ts'
import { tirText } from '#web/features/truing/tir-text.ts'
import { timeOfDay } from '#web/lib/format.ts'
import { lateWords } from '#web/lib/late-words.ts'
import { inWords } from '#web/lib/problem.ts'
import { Reason } from '#web/ui/reason.tsx'
import { RunChart } from '#web/ui/run-chart.tsx'

export interface SetsSoFarProps {
  jobId: string
  truing: Truing
  told: ReadonlyMap<string, MoveSaid>
  zone: string
  stepMm: number
  limitMm?: { leftMm: number; rightMm: number } | undefined
}

type SetRow = Truing['sets'][number]

function setName(place: number): string {
  return `set ${place + 1}`
}

/** How the crank came along: every set of this truing as a line, and the same as a table. */
export function RunOfSets({ truing, stepMm, limitMm }: Pick<SetsSoFarProps, 'truing' | 'stepMm' | 'limitMm'>) {
  const read = truing.sets.flatMap((set, place) =>
    set.hidden ? [] : [{ key: set.id, name: setName(place), leftMm: set.leftTirMm, rightMm: set.rightTirMm }],
  )
  if (read.length === 0) return null
  return <RunChart sets={read} limitMm={limitMm} stepMm={stepMm} />
}

/** Sets and moves in the order in which they were made; a set that was misread is struck out with a reason. */
export function SetsSoFar({ jobId, truing, told, zone, stepMm }: SetsSoFarProps) {
  const strike = useStrikeOut(jobId)
  if (truing.sets.length === 0) return null
  return (
    <details className="sets-so-far">
      <summary>Sets and moves so far</summary>
      <ol className="plain-list">
        {truing.sets.map((set, place) => (
          <li key={set.id}>
            <p>
              <b>{setName(place)}</b>, {timeOfDay(set.at, zone)}, {set.by}: {swingsOf(set, stepMm)}
              {set.lateAt !== undefined && <b>, {lateWords('read', { occurredAt: set.at, recordedAt: set.lateAt }, zone)}</b>}
            </p>
            <Reason
              open={`Strike out ${setName(place)}`}
              label="Why does it not count?"
              confirm="Strike it out"
              most={300}
              busy={strike.isPending}
              error={strike.error === null || strike.variables?.setId !== set.id ? undefined : inWords(strike.error)}
              onConfirm={(because) => strike.mutate({ setId: set.id, strike: { because } })}
            >
              <p>It stays in the book, struck through, with this reason.</p>
            </Reason>
            {truing.moves
              .filter((move) => move.beforeId === set.id)
              .map((move) => {
                const said = told.get(move.id)
                return (
                  <p key={move.id} className="soft">
                    then {said?.did}
                    {said?.came === undefined ? '' : `: ${said.came}`} {said?.told}
                  </p>
                )
              })}
          </li>
        ))}
      </ol>
    </details>
  )
}

function swingsOf(set: SetRow, stepMm: number): string {
  if (set.hidden) return 'hidden until the second reading is in'
  const end = (mm: number | undefined) => (mm === undefined ? 'not read' : tirText(mm, stepMm))
  return `left ${end(set.leftTirMm)}, right ${end(set.rightTirMm)}`
}
