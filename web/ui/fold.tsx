import '#web/styles/fold.css'
import { type ReactNode, useId, useRef, useState } from 'react'
import { Button, type ButtonKind } from '#web/ui/button.tsx'

export interface FoldProps {
  /** What it opens with: `Write a quote`. */
  open: ReactNode
  /** The same with what it belongs to, where several stand on a page: `Change Hana`. Begins as `open` does. */
  label?: string
  kind?: ButtonKind
  /** The form inside; `shut` closes it and puts the focus back. It is unmounted while shut, and starts afresh. */
  children: (shut: () => void) => ReactNode
}

/** A form that opens in its place: no window over the page, and what lies around it stays readable. */
export function Fold({ open, label, kind = 'quiet', children }: FoldProps) {
  const [shown, setShown] = useState(false)
  const panel = useId()
  const opener = useRef<HTMLButtonElement>(null)
  const shut = () => {
    setShown(false)
    opener.current?.focus()
  }
  return (
    <div className="fold" data-open={shown || undefined}>
      <Button ref={opener} kind={kind} aria-expanded={shown} aria-controls={panel} aria-label={label} onClick={() => setShown(!shown)}>
        {open}
      </Button>
      <div id={panel} className="fold-panel" hidden={!shown}>
        {shown && children(shut)}
      </div>
    </div>
  )
}
