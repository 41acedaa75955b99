import type { ReactNode } from 'react'

export interface SayProps {
  /** What comes before it: `Dials back. Lift off the blocks.` */
  before?: ReactNode
  /** The one thing to do, large: `Strike the right web at mark 3, light.` */
  act: ReactNode
  /** How much, and what to look for. */
  after?: ReactNode
}

/** What the hand does next. One to a screen. */
export function Say({ before, act, after }: SayProps) {
  return (
    <div className="say">
      {before !== undefined && <p>{before}</p>}
      <p className="say-act">{act}</p>
      {after !== undefined && <p>{after}</p>}
    </div>
  )
}
