import '#web/features/pressings/pressings.css'
import type { ReactNode } from 'react'

export interface PressFrameProps {
  /** Which desk stands in it: the bands of the width want more room than the two webs. */
  desk: 'width' | 'gauge'
  /** Cautions, and what is keyed. They stay where they are when the desk changes. */
  head: ReactNode
  /** A CreepDesk or a PressDesk. */
  children: ReactNode
}

/** The press on the screen: cautions first, what is known at the left, the keys at the right and from the top. */
export function PressFrame({ desk, head, children }: PressFrameProps) {
  return (
    <div className="press-frame" data-desk={desk}>
      <div className="press-head">{head}</div>
      {children}
    </div>
  )
}
