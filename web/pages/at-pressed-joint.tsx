import type { ReactNode } from 'react'
import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import type { Joint } from '#core/crank-build.ts'
import { isPressed } from '#web/features/pressings/press-words.ts'
import { benchAt } from '#web/lib/bench-at-joint.ts'
import { AtJoint, Done } from '#web/pages/at-joint.tsx'

const DONE_WORDS = { apart: 'apart', together: 'pressed together' } as const

export interface AtPressedJointProps {
  sheet: Engine
  bench: Bench
  direction: keyof typeof DONE_WORDS
  order: string
  children(joint: Joint | undefined, bench: Bench): ReactNode
}

/** The joints under the press, those behind us ticked; what is measured is that of the chosen one. */
export function AtPressedJoint({ sheet, bench, direction, order, children }: AtPressedJointProps) {
  return (
    <AtJoint
      sheet={sheet}
      among="joints"
      order={order}
      mark={(joint) => isPressed(bench, joint, direction) && <Done says={DONE_WORDS[direction]} />}
    >
      {(joint) => children(joint, benchAt(bench, joint))}
    </AtJoint>
  )
}
