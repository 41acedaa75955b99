import { useEffect, useRef, useState } from 'react'
import type { AuditCheck } from '#contract/audit.ts'
import { checkChain } from '#web/features/audit/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { Over } from '#web/ui/notice.tsx'

type Standing = { piece: AuditCheck; isDone: boolean } | { error: unknown } | undefined

/** Works the hashes of the whole chain again, a piece at a time, and says whether it holds. */
export function AuditChain() {
  const [standing, setStanding] = useState<Standing>(undefined)
  const running = useRef<AbortController | undefined>(undefined)
  useEffect(() => () => running.current?.abort(), [])
  const isBusy = standing !== undefined && 'piece' in standing && !standing.isDone

  const check = () => {
    const stop = new AbortController()
    running.current = stop
    checkChain((piece) => setStanding({ piece, isDone: false }), stop.signal).then(
      (piece) => setStanding({ piece, isDone: true }),
      (error: unknown) => {
        if (!stop.signal.aborted) setStanding({ error })
      },
    )
  }
  return (
    <section aria-label="Whether it holds" className="audit-chain">
      <Button busy={isBusy} onClick={check}>
        Check the chain
      </Button>
      <p role="status">
        <Said standing={standing} />
      </p>
    </section>
  )
}

function Said({ standing }: { standing: Standing }) {
  if (standing === undefined)
    return <span className="soft">Each line carries a hash of itself and of the line before, so that a changed or missing one shows.</span>
  if ('error' in standing) return <>The chain is not checked to its end. {inWords(standing.error)}</>
  const { piece, isDone } = standing
  const { fault, rows, upTo, head } = piece
  if (fault !== null)
    return (
      <Over>
        The chain breaks at line {fault.seq}: {fault.says}. Up to line {upTo} it holds.
      </Over>
    )
  if (!isDone) return <>{`${upTo} of ${rows} lines hold so far`}</>
  return (
    <>
      The chain holds: {upTo} lines. Its head is <code className="audit-hash">{head}</code>
      <br />
      <span className="soft">
        Write the head down elsewhere now and then: a tail cut off since would show against it (<code>npm run audit -- --head</code>).
      </span>
    </>
  )
}
