import type { AdvisedMove } from '#web/features/truing/faults.ts'
import { FORCES, type Force } from '#web/features/truing/words.ts'
import { Button } from '#web/ui/button.tsx'

export interface MoveButtonsProps {
  move: AdvisedMove
  /** The blow to try next on this crank, by this hand. */
  next: Force
  busy: boolean
  onDone(force: Force | undefined): void
}

/** What the hand has done; pressing it writes the move down and goes back to reading. */
export function MoveButtons({ move, next, busy, onDone }: MoveButtonsProps) {
  if (move.action === 'strike')
    return (
      <div className="move-acts">
        {FORCES.map((force) => (
          <Button
            key={force}
            kind={force === next ? 'go' : 'quiet'}
            busy={busy}
            aria-label={`Struck, ${force}`}
            onClick={() => onDone(force)}
          >
            {force === next ? `Struck, ${force}` : force}
          </Button>
        ))}
      </div>
    )
  const words = { wedge: 'Wedged', squeeze: 'Squeezed', part: 'Part it again', leave: 'Leave it' }[move.action]
  return (
    <div className="move-acts">
      <Button kind="go" busy={busy} onClick={() => onDone(undefined)}>
        {words}
      </Button>
    </div>
  )
}
