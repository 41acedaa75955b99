import { useEffect, useRef, useState } from 'react'
import { useLocation } from 'react-router'
import type { Job } from '#contract/jobs.ts'
import { useOilHole } from '#web/features/pressings/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { NoticeLine, Over, ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

type Hole = NonNullable<Job['oilHole']>

const WORDS: Readonly<Record<Hole, string>> = { open: 'lined up and open', masked: 'masked', none: 'this pin has none' }

const OIL_HOLE = 'oil-hole'

export interface OilHoleProps {
  jobId: string
  seen: Hole | undefined
  cycle: '2T' | '4T'
}

/** A half-hidden oil hole starves the big end: it is looked at while the pin can still be turned. */
export function OilHole({ jobId, seen, cycle }: OilHoleProps) {
  const look = useOilHole(jobId)
  const heading = useRef<HTMLHeadingElement>(null)
  const { hash, key } = useLocation()
  // biome-ignore lint/correctness/useExhaustiveDependencies: pressing the same way again is the reason to come here again
  useEffect(() => {
    if (hash !== `#${OIL_HOLE}`) return
    heading.current?.scrollIntoView({ block: 'start' })
    heading.current?.focus({ preventScroll: true })
  }, [hash, key])
  const [said, setSaid] = useState<Hole | undefined>(seen ?? (cycle === '2T' ? 'none' : undefined))
  return (
    <section id={OIL_HOLE} aria-label="Oil hole of the pin">
      <h2 ref={heading} tabIndex={-1}>
        Oil hole of the pin
      </h2>
      {cycle === '4T' && <p>In line with the drilling in the web before web 2 goes on; blow through it after.</p>}
      <Pick
        label="It is"
        options={(Object.keys(WORDS) as Hole[]).map((value) => ({ value, label: WORDS[value] }))}
        value={said}
        onChange={setSaid}
      />
      {said === 'masked' && (
        <p>
          <Over>A masked hole starves the bearing. Press it again: nobody can let this pass.</Over>
        </p>
      )}
      {look.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(look.error)}</p>
        </ProblemSummary>
      )}
      {said !== undefined && said !== seen && (
        <Button busy={look.isPending} onClick={() => look.mutate({ state: said })}>
          I looked: {WORDS[said]}
        </Button>
      )}
      <NoticeLine>{seen === undefined ? 'Nobody has looked yet.' : `In the book: ${WORDS[seen]}.`}</NoticeLine>
    </section>
  )
}
