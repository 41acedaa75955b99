import { useState } from 'react'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Measurement, MeasurementNew } from '#contract/measurements.ts'
import type { Side } from '#core/runout-verdict.ts'
import { marksSaid, runOf, runToRead } from '#web/features/truing/marks-said.ts'
import { DIALS, type Dials } from '#web/features/truing/marks-to-read.ts'
import { useTakeSet } from '#web/features/truing/queries.ts'
import { ReadingDesk } from '#web/features/truing/reading-desk.tsx'
import {
  type KeptReading,
  type ReadingState,
  readingAfter,
  readKeptReading,
  resumeReading,
  startReading,
} from '#web/features/truing/reading-state.ts'
import { type RunoutPhase, setToSend } from '#web/features/truing/set-to-send.ts'
import { completeSetUp, dialsOf, type KnownSetUp, knownSetUp, type ReadingSetUp } from '#web/features/truing/set-up.ts'
import { tabDrafts, useDraft } from '#web/lib/draft.ts'
import { newId } from '#web/lib/id.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { type Kept, kept, useKept } from '#web/lib/kept.ts'
import { inWords } from '#web/lib/problem.ts'
import { later } from '#web/ui/later.tsx'
import { NoticeLine } from '#web/ui/notice.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Loading } from '#web/ui/states.tsx'
import '#web/features/truing/truing.css'
import '#web/features/truing/reading.css'

/** Asked once a crank, as a rule; most readings begin without it. */
const SetUpForm = later('set-up', async () => (await import('#web/features/truing/set-up-form.tsx')).SetUpForm)

/** How many dials stand at this bench. */
const dialsHere: Kept<Dials> = kept<Dials>(
  'throwbook.dials',
  'two',
  (text) => DIALS.find((one) => one === text),
  (value) => value,
)

export interface ReadingScreenProps {
  jobId: string
  personId: string
  sheet: Engine
  instruments: readonly Instrument[]
  /** House limit where the sheet gives none, mm. */
  shopLimitMm: number
  phase: RunoutPhase
  /** What the bench stood at when this set was begun: after another set or a move, what was keyed before says nothing. */
  since: string
  /** The set before this one: its places are where this one is read. */
  last?: Measurement | undefined
  /** Set up afresh: whether it is cold is asked again. */
  fresh?: boolean
  /** What it said, in words; “last time” only. */
  lastTime?: string | undefined
  /** A second reading that is not taken is the owner's to let pass. */
  mayLeaveUnread?: boolean
  onTaken(set: Measurement): void
}

/** One set of runout readings, from the set-up to the book. What is keyed is kept on the tablet until the book has it. */
export function ReadingScreen(props: ReadingScreenProps) {
  const { jobId, personId, phase, since } = props
  const joint = useJointHere()
  const draft = useDraft(
    `runout:${phase}:${personId}:${jobId}:${joint === undefined ? '' : `${joint}:`}${since}`,
    readKeptReading,
    tabDrafts,
  )
  if (draft.state === 'reading') return <Loading what="what was keyed" />
  return <Reading {...props} found={draft.found} onKeep={draft.keep} onClear={draft.clear} />
}

interface ReadingProps extends ReadingScreenProps {
  found: KeptReading | undefined
  onKeep(kept: KeptReading): void
  onClear(): Promise<void>
}

function Reading({ found, onKeep, onClear, ...props }: ReadingProps) {
  const { jobId, personId, sheet, instruments, shopLimitMm, phase, last, fresh = false, lastTime, mayLeaveUnread = true, onTaken } = props
  const [howMany, setHowMany] = useKept(dialsHere)
  const [marks, sayMarks] = useKept(marksSaid)
  const dials = dialsOf(instruments)
  const [known] = useState<KnownSetUp>(() =>
    knownSetUp(sheet, dials, last, fresh ? undefined : personId, { dials: howMany, marksRun: runToRead(marks, last) }),
  )
  const [start, setStart] = useState<ReadingState | undefined>(() => begin(found, known))
  const [open, setOpen] = useState(false)
  const [round, setRound] = useState(0)
  const [said, setSaid] = useState('')
  const take = useTakeSet(jobId, onClear)

  const lie = (setUp: ReadingSetUp) => {
    setHowMany(setUp.dials)
    sayMarks({ run: runOf(setUp), setId: last?.id ?? '' })
    const next = start === undefined ? startReading(newId(), setUp) : readingAfter(start, { do: 'set-up', setUp })
    setStart(next)
    onKeep({ setId: next.setId, setUp: next.setUp, taken: next.taken, ...(next.takenAt === undefined ? {} : { takenAt: next.takenAt }) })
    setOpen(false)
  }
  // By promise and not by a callback of the mutation: once the book is read anew this screen may be gone.
  const send = (set: MeasurementNew, setUp?: ReadingSetUp) => {
    take.mutateAsync(set).then(
      (taken) => {
        setSaid(taken.notReadBecause === undefined ? '' : `Written down: not read, because ${taken.notReadBecause}.`)
        // The next set is another one, with an id of its own.
        setStart((now) => (now === undefined ? undefined : startReading(newId(), setUp ?? now.setUp)))
        setRound((now) => now + 1)
        onTaken(taken)
      },
      () => undefined,
    )
  }

  if (start === undefined || open)
    return (
      <div className="set-up">
        <h2>How it lies</h2>
        <SetUpForm
          known={start?.setUp ?? known}
          dials={dials}
          begun={start?.taken.some((one) => one !== null) ?? false}
          lacking={start === undefined}
          onDone={lie}
          onLeave={start === undefined ? undefined : () => setOpen(false)}
        />
      </div>
    )
  return (
    <ReadingDesk
      key={round}
      start={start}
      sheet={sheet}
      dials={dials}
      shopLimitMm={shopLimitMm}
      lastTir={tirOf(last)}
      lastTime={lastTime}
      sending={take.isPending}
      error={take.error}
      onChange={(now) => onKeep(now)}
      onSetUp={(now) => {
        setStart(now)
        setOpen(true)
      }}
      onTake={(set, cold) => send(setToSend(set, phase, cold), set.setUp)}
    >
      <NoticeLine>{said}</NoticeLine>
      {mayLeaveUnread && (
        <Reason
          open="Not read, because …"
          label="Why is it not read?"
          confirm="It is not read"
          most={300}
          busy={take.isPending}
          error={take.error === null ? undefined : inWords(take.error)}
          onConfirm={(because) => send({ id: start.setId, kind: 'runout', phase, values: [], notReadBecause: because })}
        >
          <p className="soft">The gate then needs the owner, and the certificate prints a dash with this reason.</p>
        </Reason>
      )}
    </ReadingDesk>
  )
}

function begin(found: KeptReading | undefined, known: KnownSetUp): ReadingState | undefined {
  if (found !== undefined) return resumeReading(found)
  const setUp = completeSetUp(known)
  return setUp === undefined ? undefined : startReading(newId(), setUp)
}

function tirOf(last: Measurement | undefined): { [End in Side]?: number | undefined } {
  return { left: last?.runout?.left?.tirMm, right: last?.runout?.right?.tirMm }
}
