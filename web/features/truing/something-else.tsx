import { useState } from 'react'
import { clockOfMark, type MarksRun } from '#core/bench/marks-run.ts'
import { type Joint, jointWords } from '#core/crank-build.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { TruingAction } from '#core/truing-moves.ts'
import { FORCES, type Force, markName } from '#web/features/truing/words.ts'
import { Button } from '#web/ui/button.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface OtherMove {
  action: Exclude<TruingAction, 'leave'>
  /** Of a crank with several throws: the joint that took it. */
  joint?: Joint
  half?: Side
  atDeg?: number
  force?: Force
}

export interface SomethingElseProps {
  busy: boolean
  /** How the marks of this rim run. */
  marksRun: MarksRun
  /** To choose among, where the whole of a crank with several throws lies on the blocks. */
  joints?: readonly Joint[]
  onDone(move: OtherMove): void
}

const MARKS = Array.from({ length: 12 }, (_, hour) => hour * 30)
const ACTIONS = { strike: 'struck a web', wedge: 'wedged the rims', squeeze: 'squeezed the rims', part: 'pressed it apart again' } as const

/** What the hand did instead of the advice: it is written down as it was done. */
export function SomethingElse({ busy, marksRun, joints = [], onDone }: SomethingElseProps) {
  const [open, setOpen] = useState(false)
  const [action, setAction] = useState<OtherMove['action'] | undefined>(undefined)
  const [joint, setJoint] = useState<Joint | undefined>(undefined)
  const [half, setHalf] = useState<Side | undefined>(undefined)
  const [mark, setMark] = useState<string | undefined>(undefined)
  const [force, setForce] = useState<Force | undefined>(undefined)
  const struck = action === 'strike'
  const noJoint = joints.length > 0 && joint === undefined
  const lacks =
    action === undefined || noJoint ? 'Say what you did.' : struck && (half === undefined || mark === undefined || force === undefined)

  const done = () => {
    if (action === undefined || lacks) return
    const at = joint === undefined ? {} : { joint }
    if (action !== 'strike') return onDone({ action, ...at })
    if (half !== undefined && mark !== undefined && force !== undefined) onDone({ action, ...at, half, atDeg: Number(mark), force })
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
          {joints.length > 0 && (
            <Pick
              label="At which joint?"
              value={joint}
              onChange={setJoint}
              options={joints.map((value) => ({ value, label: jointWords(value) }))}
            />
          )}
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
                options={MARKS.map((deg) => ({ value: String(clockOfMark(deg, marksRun)), label: markName(deg) }))}
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
