import { useState } from 'react'
import type { Bench } from '#contract/bench.ts'
import type { EngineBuild } from '#contract/crank-build.ts'
import { isLater } from '#core/instants.ts'
import { useTickTrapped } from '#web/features/pressings/queries.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Known, ProblemSummary } from '#web/ui/notice.tsx'
import { PickMany } from '#web/ui/pick.tsx'

/** Where the way to these parts leads. */
export const TRAPPED = 'trapped'

/** Whether every part that the sheet lists was ticked as in since the crank was last parted. */
export function isAllIn({ build, trapped, pressings }: Bench): boolean {
  const listed = build?.trapped ?? []
  const partings = pressings.filter((one) => one.direction === 'apart' && one.struck === undefined)
  const isOld = trapped !== undefined && partings.some((one) => !isLater(trapped.at, one.occurredAt))
  const ticked = isOld ? [] : (trapped?.ticked ?? [])
  return listed.every(({ what }) => ticked.includes(what))
}

export interface TrappedPartsProps {
  jobId: string
  listed: EngineBuild['trapped']
  seen: Bench['trapped']
  isIn: boolean
}

/** What sits between the webs, ticked before they are pressed together. */
export function TrappedParts(props: TrappedPartsProps) {
  const { listed, seen, isIn } = props
  if (!isIn) return <Ticks {...props} />
  return (
    <>
      <Known>
        In between the webs: {listed.map(({ what }) => what).join(', ')}
        {seen === undefined ? '' : `; ${seen.by} looked`}.
      </Known>
      <Fold open="Something is out again">{() => <Ticks {...props} />}</Fold>
    </>
  )
}

function Ticks({ jobId, listed, seen, isIn }: TrappedPartsProps) {
  const [ticked, setTicked] = useState<string[]>(() => (isIn ? (seen?.ticked ?? []) : []))
  const [id, setId] = useState(newId)
  const tick = useTickTrapped(jobId)
  const left = listed.filter(({ what }) => !ticked.includes(what))
  return (
    <section id={TRAPPED} aria-label="Between the webs" className="trapped">
      <h2>Between the webs</h2>
      <p>These go in before the press. One forgotten, and it comes apart again.</p>
      <PickMany
        label="In their places"
        options={listed.map(({ what, between }) => ({ value: what, label: `${what}, ${between}` }))}
        value={ticked}
        onChange={setTicked}
      />
      {tick.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(tick.error)}</p>
        </ProblemSummary>
      )}
      <Button
        kind={left.length === 0 ? 'go' : 'quiet'}
        busy={tick.isPending}
        onClick={() =>
          tick.mutateAsync({ id, ticked }).then(
            () => setId(newId()),
            () => undefined,
          )
        }
      >
        {left.length === 0 ? 'All are in' : `${left.length} still out`}
      </Button>
    </section>
  )
}
