import { type ReactNode, useRef } from 'react'
import type { Engine } from '#contract/engines.ts'
import type { Measurement, RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { MoveNew, Truing } from '#contract/truing.ts'
import { jointsOf } from '#core/crank-build.ts'
import { isLater } from '#core/instants.ts'
import { isWithin } from '#core/runout-verdict.ts'
import type { TruingAction } from '#core/truing-moves.ts'
import { actOnPicture, aheadWords, amountWords, cautionFor, reachWords, saidMove, toolWords } from '#web/features/truing/advice-words.ts'
import { faultLines, isOnSupports } from '#web/features/truing/faults.ts'
import { type MoveSaid, moveSaid } from '#web/features/truing/last-move.ts'
import { CountedWrong, MarksQuestion } from '#web/features/truing/marks-asked.tsx'
import { byMarks, marksSaid, runOf } from '#web/features/truing/marks-said.ts'
import { MoveButtons } from '#web/features/truing/move-buttons.tsx'
import { QualityFlags } from '#web/features/truing/quality-flags.tsx'
import { useLogMove } from '#web/features/truing/queries.ts'
import { ReadingWorth, worthOfSet } from '#web/features/truing/reading-worth.tsx'
import { figureOf } from '#web/features/truing/set-up.ts'
import { RunOfSets, SetsSoFar } from '#web/features/truing/sets-so-far.tsx'
import { SomethingElse } from '#web/features/truing/something-else.tsx'
import { SwingsNow } from '#web/features/truing/swings-now.tsx'
import { tirText } from '#web/features/truing/tir-text.ts'
import { newId } from '#web/lib/id.ts'
import { useKept } from '#web/lib/kept.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { CrankEnd } from '#web/ui/crank-end.tsx'
import { Caution, Known } from '#web/ui/notice.tsx'
import { Say } from '#web/ui/say.tsx'
import '#web/features/truing/truing.css'
import '#web/features/truing/striking.css'

export interface StrikingScreenProps {
  jobId: string
  personId: string
  sheet: Engine
  truing: Truing
  /** The set that the advice comes from. */
  last: Measurement & { runout: RunoutFigures; setup: RunoutSetup }
  zone: string
  onReadAgain(): void
  /** What comes once it is true, or left as it is: width and side clearance again, then the step. */
  whenTrue: ReactNode
}

/** After these the last set says nothing any more. */
const MOVES_A_WEB: readonly TruingAction[] = ['strike', 'squeeze', 'wedge']

type Move = Omit<MoveNew, 'id' | 'occurredAt' | 'beforeId'>

/** Striking: what each end swings, what is wrong, the one move to make now, and what the last one did. */
export function StrikingScreen({ jobId, personId, sheet, truing, last, zone, onReadAgain, whenTrue }: StrikingScreenProps) {
  const { runout: figures, setup } = last
  const stepMm = last.instrument?.stepMm ?? 0.01
  const log = useLogMove(jobId)
  const sent = useRef<{ move: string; body: MoveNew } | undefined>(undefined)
  const [marks, sayMarks] = useKept(marksSaid)
  const run = runOf(setup)
  const saidOfThis = marks.setId === last.id ? marks.run : undefined
  const isCountedWrong = saidOfThis !== undefined && saidOfThis !== run
  const asksMarks = saidOfThis === undefined && marksInDoubt(truing)
  // The whole of a crank with several throws: its two ends do not tell which joint is out, and a blow names the one that took it.
  const joints = jointsOf(sheet.build ?? null)
  const advice = isCountedWrong ? undefined : truing.advice
  const move = advice?.moves[0]
  const isTrue = advice?.verdict === 'true'
  const { leftMm, rightMm } = figures.limits
  const limitMm = leftMm === undefined || rightMm === undefined ? undefined : { leftMm, rightMm }
  const ranAt = new Map(truing.sets.map((set) => [set.id, set.marksRun]))
  const told = new Map(truing.moves.map((made) => [made.id, moveSaid(made, stepMm, ranAt.get(made.beforeId))]))

  // Pressed again after no answer, the same move is the same act: one id, one time.
  const write = (made: Move) => {
    const key = JSON.stringify(made)
    if (sent.current?.move !== key)
      sent.current = { move: key, body: { id: newId(), occurredAt: new Date().toISOString(), beforeId: last.id, ...made } }
    log.mutateAsync(sent.current.body).then(
      () => {
        sent.current = undefined
        if (MOVES_A_WEB.includes(made.action)) onReadAgain()
      },
      () => undefined,
    )
  }

  const caution = move === undefined ? undefined : cautionFor(move, setup.held)
  return (
    <div className="striking">
      <section className="striking-act" aria-label="What to do">
        <SwingsNow figures={figures} setup={setup} stepMm={stepMm} />
        <ReadingWorth worth={worthOfSet(figures, setup.held)} opens="What makes the give or take" />
        <QualityFlags figures={figures} repeats={truing.repeats} />
        {asksMarks && <MarksQuestion onSay={(said) => sayMarks({ run: said, setId: last.id })} />}
        {isCountedWrong && (
          <CountedWrong
            jobId={jobId}
            setId={last.id}
            counted={run}
            readBy={last.byId === personId ? undefined : last.by}
            onReadAgain={onReadAgain}
            onTakeBack={() => sayMarks({ run, setId: last.id })}
          />
        )}
        {truing.stop !== undefined && <Known>{truing.stop.says}</Known>}
        {advice !== undefined && move !== undefined && (
          <>
            <SayMove
              say={byMarks(withForce(move.say, truing.band?.next), run)}
              after={[amountWords(advice, move, stepMm), aheadWords(truing.ahead, stepMm), reachWords(advice, figures.giveOrTake, stepMm)]}
            />
            {toolWords(move) !== undefined && <p className="move-tool">{toolWords(move)}</p>}
            {caution !== undefined && <Caution>{caution}</Caution>}
          </>
        )}
        {isCountedWrong ? null : move === undefined ? (
          <p>{figures.refused ?? 'The two ends do not agree with themselves yet: read again before anything is struck.'}</p>
        ) : (
          !isTrue && (
            <MoveButtons
              move={move}
              next={truing.band?.next ?? 'light'}
              busy={log.isPending}
              onDone={(force) =>
                write({
                  action: move.action,
                  ...(move.half === undefined ? {} : { half: move.half }),
                  ...(move.atDeg === undefined ? {} : { atDeg: move.atDeg }),
                  ...(force === undefined ? {} : { force }),
                  asAdvised: true,
                })
              }
            />
          )
        )}
        {(move?.action === 'leave' || joints.length > 0) && whenTrue}
        {log.error !== null && (
          <p role="alert" className="wrong">
            The move is not in the book yet. {inWords(log.error)}
          </p>
        )}
      </section>
      <section className="striking-picture" aria-label="What is wrong">
        <CrankEnd
          leftHighAtDeg={highOf(figures, 'left')}
          rightHighAtDeg={highOf(figures, 'right')}
          act={move === undefined || isTrue ? undefined : actOnPicture(move)}
          anticlockwise={run === 'other-way'}
        />
        <Faults sheet={sheet} figures={figures} setup={setup} stepMm={stepMm} />
      </section>
      <section className="striking-after" aria-label="What was done">
        <LastMove truing={truing} told={told} />
        <div className="striking-other">
          <Button onClick={onReadAgain}>Read again</Button>
          <SomethingElse busy={log.isPending} marksRun={run} joints={joints} onDone={(made) => write({ ...made, asAdvised: false })} />
        </div>
        <RunOfSets truing={truing} stepMm={stepMm} limitMm={limitMm} />
        <SetsSoFar jobId={jobId} truing={truing} told={told} zone={zone} stepMm={stepMm} />
      </section>
    </div>
  )
}

function SayMove({ say, after }: { say: string; after: (string | undefined)[] }) {
  const said = saidMove(say)
  const rest = [...after, said.rest].filter((one) => one !== undefined)
  return (
    <Say
      act={said.act}
      {...(said.before === undefined ? {} : { before: said.before })}
      {...(rest.length === 0 ? {} : { after: rest.join(' ') })}
    />
  )
}

/** The first reading after the last blow went the other way; once it was read anew the question has had its answer. */
function marksInDoubt({ moves, sets }: Truing): boolean {
  const last = moves.at(-1)
  return last?.told?.askMarks === true && sets.filter((set) => isLater(set.at, last.occurredAt)).length === 1
}

/** The sum knows no hand and says light; what this crank has taken from this hand goes before it. */
function withForce(say: string, next: string | undefined): string {
  return next === undefined ? say : say.replace(', light,', `, ${next},`)
}

/** Where an end is high, unless it swings so little that these dials cannot say. */
function highOf(figures: RunoutFigures, side: 'left' | 'right'): number | undefined {
  const end = figures[side]
  const worth = side === 'left' ? figures.giveOrTake.leftMm : figures.giveOrTake.rightMm
  return end === undefined || isWithin(end.tirMm, worth) ? undefined : end.highAtDeg
}

function LastMove({ truing, told }: { truing: Truing; told: ReadonlyMap<string, MoveSaid> }) {
  const last = truing.moves.at(-1)
  const said = last === undefined ? undefined : told.get(last.id)
  if (last === undefined || said === undefined) return null
  return (
    <div className="last-move" data-turn={last.told?.turn ?? 'not-known'}>
      <p>
        Last move: {said.did}. {said.came} {said.told !== undefined && <b>{said.told}</b>}
      </p>
      {truing.band !== undefined && <p>{truing.band.says}</p>}
    </div>
  )
}

interface FaultsProps {
  sheet: Engine
  figures: RunoutFigures
  setup: RunoutSetup
  stepMm: number
}

function Faults({ sheet, figures, setup, stepMm }: FaultsProps) {
  const { sum } = figures
  if (sum === undefined || !figures.closes.agree) return null
  if (!isOnSupports(sum))
    return (
      <p>
        Swing {tirText(Math.abs(sum.faults.swingMm), stepMm)} mm, if the pin is not cocked. With one main held true nothing else can be
        told.
      </p>
    )
  const rim = figureOf(sheet, 'rimRadiusMm') ?? (figureOf(sheet, 'strokeMm') ?? 0) / 2 + 20
  const lines = faultLines(sum.faults, setup, rim, Math.max(figures.giveOrTake.leftMm, figures.giveOrTake.rightMm))
  return (
    <dl className="faults">
      {lines.map((line) => (
        <div key={line.name}>
          <dt>{line.says}</dt>
          <dd className={line.mm === undefined ? undefined : 'fig'}>
            {line.mm === undefined ? 'too small to say' : tirText(line.mm, stepMm)}
          </dd>
        </div>
      ))}
    </dl>
  )
}
