import type { ReactNode } from 'react'
import type { Engine } from '#contract/engines.ts'
import { centresOf, type Joint, jointWords, throwsOf } from '#core/crank-build.ts'
import { useChoice } from '#web/lib/choice.ts'
import { JointProvider } from '#web/lib/joint-here.ts'
import { Pick } from '#web/ui/pick.tsx'

const WHOLE = 'whole'

export interface AtJointProps {
  sheet: Engine
  /** What is chosen among: throws alone, every joint that is pressed, or the whole crank and its throws. */
  among: 'throws' | 'joints' | 'whole-or-throws'
  /** What the whole is called, where it is chosen among. */
  whole?: string
  /** In which order, or how. */
  order?: string
  /** What stands behind a joint that is done, such as `<Done says="read" />`. */
  mark?: (joint: Joint | undefined) => ReactNode
  children: (joint: Joint | undefined) => ReactNode
}

/** Which throw of a crank with several, chosen at the top of the screen and kept in the address; nothing to choose where it has one. */
export function AtJoint({ sheet, among, whole = 'Whole crank', order, mark, children }: AtJointProps) {
  const build = sheet.build ?? null
  const throws = throwsOf(build)
  const joints = among === 'joints' ? [...throws, ...centresOf(build)] : throws
  const [first = WHOLE, ...others] = among === 'whole-or-throws' ? [WHOLE, ...joints] : joints
  const choices: [Joint | typeof WHOLE, ...(Joint | typeof WHOLE)[]] = [first, ...others]
  const [chosen, choose] = useChoice('joint', choices)
  const joint = chosen === WHOLE ? undefined : chosen
  if (throws.length === 0) return children(undefined)
  const labelOf = (value: Joint | typeof WHOLE) => (
    <>
      {value === WHOLE ? whole : jointWords(value)}
      {mark?.(value === WHOLE ? undefined : value)}
    </>
  )
  return (
    <>
      <Pick
        label={among === 'joints' ? 'Which joint' : 'Which throw'}
        {...(order === undefined ? {} : { hint: order })}
        options={choices.map((value) => ({ value, label: labelOf(value) }))}
        value={chosen}
        onChange={choose}
      />
      {/* Another throw is another piece of work: nothing that is being keyed goes over to it. */}
      <JointProvider key={chosen} value={joint}>
        {children(joint)}
      </JointProvider>
    </>
  )
}

/** Behind the name of a joint where nothing is left to do on this screen; seen as a tick, said in a word. */
export function Done({ says }: { says: string }) {
  return (
    <>
      <span aria-hidden="true">{'\u00a0'}✓</span>
      <span className="spoken">, {says}</span>
    </>
  )
}
