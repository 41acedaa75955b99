import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Measurement, RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { Truing } from '#contract/truing.ts'
import { lastTimeWords } from '#web/features/truing/faults.ts'
import { truingQuery } from '#web/features/truing/queries.ts'
import { ReadingScreen } from '#web/features/truing/reading-screen.tsx'
import { StrikingScreen } from '#web/features/truing/striking-screen.tsx'
import { tirText } from '#web/features/truing/tir-text.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { Known } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export interface TruingScreenProps {
  jobId: string
  personId: string
  sheet: Engine
  instruments: readonly Instrument[]
  shopLimitMm: number
  zone: string
  /** What stands in the way of truing here and now, or what comes after it; above both states. */
  notice?: ReactNode
  /** What comes once both ends are within what is allowed. */
  whenTrue: ReactNode
}

type Struck = Measurement & { runout: RunoutFigures; setup: RunoutSetup }

/** A set from which a move can be told: both ends in, and 12 again repeats. */
function leadsToAMove(truing: Truing): truing is Truing & { last: Struck } {
  const { last, stale } = truing
  return !stale && last?.runout !== undefined && last.setup !== undefined && last.runout.closes.agree
}

/** The truing bench of one crank: reading or striking, never both. */
export function TruingScreen(props: TruingScreenProps) {
  const { jobId, personId, sheet, instruments, shopLimitMm, zone, notice, whenTrue } = props
  const asked = useQuery(truingQuery(jobId, useJointHere()))
  // The set after which the hand asked to read once more; with a newer set the screen goes on by itself.
  const [again, setAgain] = useState<string | undefined>(undefined)
  if (asked.isPending) return <Loading what="the truing so far" />
  if (asked.data === undefined) return <Failed what="The truing so far" error={asked.error} onAgain={() => void asked.refetch()} />
  const truing = asked.data
  const lastId = truing.last?.id
  // What somebody else read last is kept from this person until the second reading is in; nothing is read over it here.
  const hidden = truing.last?.hidden === true
  const striking = leadsToAMove(truing) && again !== lastId
  return (
    <div className="at-bench truing" data-state={striking ? 'striking' : 'reading'}>
      {notice}
      {striking ? (
        <StrikingScreen
          jobId={jobId}
          personId={personId}
          sheet={sheet}
          truing={truing}
          last={truing.last}
          zone={zone}
          onReadAgain={() => setAgain(lastId)}
          whenTrue={whenTrue}
        />
      ) : hidden ? (
        <Known>What was read last is kept out of sight until the second reading is in.</Known>
      ) : (
        <>
          <UnsettledSet truing={truing} />
          <ReadingScreen
            key={lastId ?? 'first'}
            jobId={jobId}
            personId={personId}
            sheet={sheet}
            instruments={instruments}
            shopLimitMm={shopLimitMm}
            // As it stands after pressing or striking; the gates take the newest such set.
            phase="built"
            since={`${lastId ?? ''}:${truing.moves.at(-1)?.id ?? ''}`}
            last={truing.last}
            lastTime={lastTimeWords(truing.last?.runout, (mm) => tirText(mm, truing.last?.instrument?.stepMm ?? 0.01))}
            onTaken={() => setAgain(undefined)}
          />
        </>
      )}
    </div>
  )
}

/** Why the last set gives no advice, where nothing was done since. */
function UnsettledSet({ truing }: { truing: Truing }) {
  const { last, stale } = truing
  if (stale || last?.runout === undefined || last.runout.closes.agree) return null
  return <Known>The last set does not repeat at 12 again, so it says no fault and gives no advice. Read both ends again.</Known>
}
