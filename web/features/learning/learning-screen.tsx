import '#web/features/learning/learning.css'
import type { PersonLearning } from '#contract/learning.ts'
import type { HollowReason } from '#core/learning-line.ts'
import { LineSays } from '#web/features/learning/line-says.tsx'
import { ReadyToSign } from '#web/features/learning/ready-to-sign.tsx'
import { LearningChart, type LearningLine, type LearningPoint } from '#web/ui/learning-chart.tsx'
import { Empty } from '#web/ui/states.tsx'

const HOLLOW_SHORT: Readonly<Record<HollowReason, string>> = {
  'other-kind': 'not a rebuild',
  practice: 'for practice',
  comeback: 'comeback put right',
  'others-over-a-fifth': 'over a fifth of the hours by others',
}

export interface LearningScreenProps {
  learning: PersonLearning
  /** The page of a crank, for whoever looks. */
  crankAt(jobId: string): string
}

/** `J., cranks 1 to 43` */
export function learningHeading(learning: PersonLearning): string {
  const counted = learning.points.flatMap((point) => (point.n === undefined ? [] : [point.n]))
  if (counted.length === 0) return `${learning.person.name}, no cranks yet`
  const [first, last] = [Math.min(...counted), Math.max(...counted)]
  return `${learning.person.name}, ${first === last ? `crank ${first}` : `cranks ${first} to ${last}`}`
}

/** Bench hours a crank against own count, what the line says, and what tells whether the hand is ready to sign. */
export function LearningScreen({ learning, crankAt }: LearningScreenProps) {
  const points = learning.points.map(
    (point): LearningPoint => ({
      n: point.n ?? point.drawAt,
      hours: point.hours,
      tag: point.tag,
      href: crankAt(point.jobId),
      ...(point.hollow === undefined ? {} : { leftOut: HOLLOW_SHORT[point.hollow] }),
    }),
  )
  return (
    <div className="learning">
      <section aria-label="The line">
        {points.length === 0 ? (
          <Empty>No crank of this hand is signed yet; the first one makes the first point.</Empty>
        ) : (
          <LearningChart points={points} fitted={bandOf(learning)} targetHours={learning.targetHours} caption={captionOf(learning)} />
        )}
      </section>
      <aside aria-label="In figures">
        <LineSays learning={learning} />
        <ReadyToSign ready={learning.ready} />
      </aside>
    </div>
  )
}

/** The line as it may be drawn, in rising count; nothing where no rate may be printed. */
function bandOf({ line, mayFitRate }: PersonLearning): LearningLine[] {
  if (!mayFitRate || line === undefined) return []
  return line.predictions
    .flatMap(({ n, hours, low, high }) => (high === undefined ? [] : [{ n, hours, low, high }]))
    .sort((one, other) => one.n - other.n)
}

function captionOf({ caption, mayFitRate, line }: PersonLearning): string {
  const law = mayFitRate && line !== undefined ? ' Unit law: each doubling of the count takes the same share of the time.' : ''
  return `${caption}${law}`
}
