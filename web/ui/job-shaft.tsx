import type { CSSProperties } from 'react'
import { actWord, doneWord, isEnd, type JobKind, type JobState, nextStep, PATHS, placeOnPath, type Step } from '#core/steps.ts'
import { SHAFT_AXIS, SHAFT_HEIGHT, SHAFT_WIDTH, type ShaftOutline, type ShaftPiece, shaftOutline } from '#web/ui/job-shaft-outline.ts'

export interface JobShaftProps {
  kind: JobKind
  /** The last step reached, or the end the job came to. */
  done: JobState
  /** For a job that came to another end: the last step it had reached. */
  reached?: Step
  /** Why it stands, in words: `waits for kit, due Thu 26 Nov`. */
  waiting?: string | undefined
  /** When each step was reached, in words. */
  dates?: Partial<Record<Step, string>>
  /** `big` with its words beneath, `strip` alone for a row of a list. */
  size: 'big' | 'strip'
}

/** What the picture says. @example shaftLabel('rebuild', 'apart', 'waits for kit') // 'Done: apart. Next: to press together, waits for kit.' */
export function shaftLabel(kind: JobKind, done: JobState, waiting?: string): string {
  if (isEnd(done)) return `Ended: ${doneWord(done)}.`
  const act = actWord(kind, done)
  if (nextStep(kind, done) === null) return `Done: ${doneWord(done)}, ${act}.`
  return `Done: ${doneWord(done)}. Next: ${act}${waiting === undefined ? '' : `, ${waiting}`}.`
}

/**
 * The job as the crank itself: blued in as far as the work is done, drawn apart while it is apart, a centre line once it is
 * true, a punch mark once it is signed, the next part ringed in copper, a collar on it while it waits.
 */
export function JobShaft({ kind, done, reached, waiting, dates = {}, size }: JobShaftProps) {
  const step = isEnd(done) ? (reached ?? 'booked') : done
  const next = isEnd(done) ? null : nextStep(kind, step)
  const outline = shaftOutline(kind, step === 'apart')
  const place = placeOnPath(kind, step)
  const label = shaftLabel(kind, done, waiting)
  return (
    <div className="job-shaft" data-size={size}>
      <Crank
        outline={outline}
        place={place}
        ringed={next !== null}
        waits={waiting !== undefined && next !== null}
        label={label}
        trued={placeOf(kind, 'trued') <= place}
        signed={placeOf(kind, 'signed') <= place}
      />
      {size === 'big' && (
        <>
          <ol className="shaft-words" style={{ gridTemplateColumns: outline.columns.map((column) => `${column.span}fr`).join(' ') }}>
            {outline.columns.map((column, index) =>
              column.step === undefined ? (
                <li key="gap" aria-hidden="true" />
              ) : (
                <Word
                  key={column.step}
                  {...wordsOf(kind, column.step, { step, next, waiting, dates, ended: isEnd(done) })}
                  column={index + 1}
                />
              ),
            )}
          </ol>
          <p className="shaft-line">{inALine(kind, done, step, next, waiting)}</p>
        </>
      )}
    </div>
  )
}

/** Where a step stands on the path; beyond its end where this kind has no such step. */
function placeOf(kind: JobKind, step: Step): number {
  const place = PATHS[kind].indexOf(step)
  return place < 0 ? Number.POSITIVE_INFINITY : place
}

interface WordState {
  look: 'done' | 'next' | 'later'
  word: string
  beneath: string | undefined
}

function wordsOf(
  kind: JobKind,
  step: Step,
  now: { step: Step; next: Step | null; waiting: string | undefined; dates: Partial<Record<Step, string>>; ended: boolean },
): WordState {
  if (placeOnPath(kind, step) <= placeOnPath(kind, now.step)) return { look: 'done', word: doneWord(step), beneath: now.dates[step] }
  if (step === now.next) return { look: 'next', word: actWord(kind, now.step), beneath: now.waiting }
  return { look: 'later', word: doneWord(step), beneath: undefined }
}

function Word({ look, word, beneath, column }: WordState & { column: number }) {
  const style: CSSProperties = { gridColumn: column }
  return (
    <li data-look={look} style={style}>
      <span className="shaft-word">
        {look === 'later' && <span className="spoken">later: </span>}
        {look === 'next' && <span className="spoken">next: </span>}
        {word}
      </span>
      {beneath !== undefined && <span className="shaft-beneath">{beneath}</span>}
    </li>
  )
}

function inALine(kind: JobKind, done: JobState, step: Step, next: Step | null, waiting: string | undefined): string {
  const path = PATHS[kind]
  const before = path.slice(0, placeOnPath(kind, step) + 1).map(doneWord)
  if (isEnd(done)) return `${before.join(', ')} · ${doneWord(done)}`
  if (next === null) return `${before.join(', ')} · ${actWord(kind, step)}`
  return `${before.join(', ')} · next: ${actWord(kind, step)}${waiting === undefined ? '' : `, ${waiting}`}`
}

interface CrankProps {
  outline: ShaftOutline
  place: number
  ringed: boolean
  waits: boolean
  label: string
  trued: boolean
  signed: boolean
}

function lookOf(index: number, place: number, ringed: boolean): 'done' | 'next' | 'later' {
  if (index <= place) return 'done'
  return ringed && index === place + 1 ? 'next' : 'later'
}

// The ring of the next part lies over its neighbours, so it is drawn last.
function inOrder(pieces: ShaftPiece[], place: number): { piece: ShaftPiece; index: number }[] {
  return pieces.map((piece, index) => ({ piece, index })).sort((a, b) => Number(a.index === place + 1) - Number(b.index === place + 1))
}

function Crank({ outline, place, ringed, waits, label, trued, signed }: CrankProps) {
  const next = outline.pieces[place + 1]
  const last = outline.pieces[place]
  const web = outline.pieces.find((piece) => piece.bottom - piece.top > 50)
  return (
    <svg role="img" aria-label={label} viewBox={`-4 -5 ${SHAFT_WIDTH + 8} ${SHAFT_HEIGHT + 10}`} preserveAspectRatio="none">
      {inOrder(outline.pieces, place).map(({ piece, index }) => (
        <g key={piece.step} data-look={lookOf(index, place, ringed)}>
          <path className="shaft-body" d={piece.outline} vectorEffect="non-scaling-stroke" />
          {piece.detail !== undefined && <path className="shaft-detail" d={piece.detail} vectorEffect="non-scaling-stroke" />}
        </g>
      ))}
      {waits && next !== undefined && (
        <path className="shaft-collar" d={`M${next.tallTo - 14} ${next.top - 4}V${next.bottom + 4}`} vectorEffect="non-scaling-stroke" />
      )}
      {trued && last !== undefined && (
        <>
          <path
            className="shaft-axis"
            d={`M0 ${SHAFT_AXIS}H${outline.throwFrom}M${outline.throwTo} ${SHAFT_AXIS}H${last.to}`}
            vectorEffect="non-scaling-stroke"
          />
          <path
            className="shaft-axis in-the-air"
            d={`M${outline.throwFrom} ${SHAFT_AXIS}H${outline.throwTo}`}
            vectorEffect="non-scaling-stroke"
          />
        </>
      )}
      {/* A stroke of no length with round ends stays round however the picture is stretched. */}
      {signed && web !== undefined && (
        <path className="shaft-punch" d={`M${(web.from + web.to) / 2 + 12} ${SHAFT_AXIS - 16}h0.01`} vectorEffect="non-scaling-stroke" />
      )}
    </svg>
  )
}
