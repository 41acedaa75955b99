import { Button } from '#web/ui/button.tsx'

export interface MoreProps {
  shown: number
  /** How many there are in all, where that is known. */
  total?: number
  /** Whether rows follow: the answer's `next` is not null. */
  more: boolean
  busy: boolean
  onMore(): void
}

/** The end of a list: how much of it is shown, and the way to the rest. */
export function More({ shown, total, more, busy, onMore }: MoreProps) {
  return (
    <div className="more">
      <span className="soft" role="status">
        {total === undefined ? `showing ${shown}` : `showing ${shown} of ${total}`}
      </span>
      {more && (
        <Button busy={busy} onClick={onMore}>
          Show more
        </Button>
      )}
    </div>
  )
}
