import { useState } from 'react'
import type { Side } from '#core/runout-verdict.ts'
import type { TruingAction } from '#core/truing-moves.ts'
import { FORCES, type Force, markName } from '#web/features/truing/words.ts'
import { Button } from '#web/ui/button.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface OtherMove {
  action: Exclude<TruingAction, 'leave'>
  half?: Side
  atDeg?: number
  force?: Force
}

export interface SomethingElseProps {
  busy: boolean
  onDone(move: OtherMove): void
}

const MARKS = Array.from({ length: 12 }, (_, hour) => hour * 30)
const ACTIONS = { strike: 'struck a web', wedge: 'wedged the rims', squeeze: 'squeezed the rims', part: 'pressed it apart again' } as const

/** What the hand did instead of the advice: it is written down as it was done. */
export function SomethingElse({ busy, onDone }: SomethingElseProps) {
  const [open, setOpen] = useState(false)
  const [action, setAction] = useState<OtherMove['action'] | undefined>(undefined)
  const [half, setHalf] = useState<Side | undefined>(undefined)
  const [mark, setMark] = useState<string | undefined>(undefined)
  const [force, setForce] = useState<Force | undefined>(undefined)
  const struck = action === 'strike'
  const lacks = action === undefined ? 'Say what you did.' : struck && (half === undefined || mark === undefined || force === undefined)

  const done = () => {
    if (action === undefined || lacks) return
    if (action !== 'strike') return onDone({ action })
    if (half !== undefined && mark !== undefined && force !== undefined) onDone({ action, half, atDeg: Number(mark), force })
  }

  return (
    <div className="something-else">
      <Button aria-expanded={open} onClick={() => setOpen(!open)}>
        I did something else
      </Button>
      {open && (
        <div className="reason-panel">
          <Pick
            label="What did you do?"
            value={action}
            onChange={setAction}
            options={(['strike', 'wedge', 'squeeze', 'part'] as const).map((value) => ({ value, label: ACTIONS[value] }))}
          />
          {struck && (
            <>
              <Pick
                label="Which web took the blow?"
                value={half}
                onChange={setHalf}
                options={[
                  { value: 'left', label: 'left web' },
                  { value: 'right', label: 'right web' },
                ]}
              />
              <Pick
                label="At which mark?"
                value={mark}
                onChange={setMark}
                options={MARKS.map((deg) => ({ value: String(deg), label: markName(deg) }))}
              />
              <Pick label="How hard?" value={force} onChange={setForce} options={FORCES.map((value) => ({ value, label: value }))} />
            </>
          )}
          <Button busy={busy} disabled={Boolean(lacks)} onClick={done}>
            Write it down, then read again
          </Button>
        </div>
      )}
    </div>
  )
}
