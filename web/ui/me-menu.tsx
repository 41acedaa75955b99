import { type ReactNode, useEffect, useId, useRef, useState } from 'react'
import { slashFinds } from '#web/lib/find-keys.ts'
import { useKept } from '#web/lib/kept.ts'
import { MODES, type Mode, mode } from '#web/lib/mode.ts'
import { Button } from '#web/ui/button.tsx'
import { Pick, PickMany } from '#web/ui/pick.tsx'

const MODE_WORDS: Record<Mode, string> = { light: 'light', bench: 'bench, dark', sun: 'bright sun' }

export interface MeMenuProps {
  /** `Hana, counter` */
  who: string
  onSignOut(): void
  /** More that belongs to this person: own learning line, change password. */
  children?: ReactNode
}

/** Who is signed in; opens what is theirs and how this screen shows itself. */
export function MeMenu({ who, onSignOut, children }: MeMenuProps) {
  const [open, setOpen] = useState(false)
  const [lit, setLit] = useKept(mode)
  const [slash, setSlash] = useKept(slashFinds)
  const panel = useId()
  const root = useRef<HTMLDivElement>(null)
  const opener = useRef<HTMLButtonElement>(null)

  useEffect(() => {
    if (!open) return
    // A press or the focus anywhere else closes it.
    const onElsewhere = (event: Event) => {
      if (event.target instanceof Node && !root.current?.contains(event.target)) setOpen(false)
    }
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      setOpen(false)
      opener.current?.focus()
    }
    document.addEventListener('pointerdown', onElsewhere)
    document.addEventListener('focusin', onElsewhere)
    document.addEventListener('keydown', onKey)
    return () => {
      document.removeEventListener('pointerdown', onElsewhere)
      document.removeEventListener('focusin', onElsewhere)
      document.removeEventListener('keydown', onKey)
    }
  }, [open])

  return (
    <div className="me-menu" ref={root}>
      <button ref={opener} type="button" className="me-open" aria-expanded={open} aria-controls={panel} onClick={() => setOpen(!open)}>
        {who}
      </button>
      <div className="me-panel" id={panel} hidden={!open}>
        {children}
        <Pick label="This screen" options={MODES.map((value) => ({ value, label: MODE_WORDS[value] }))} value={lit} onChange={setLit} />
        <PickMany
          label="Keys"
          options={[{ value: 'slash', label: '“/” goes to the find box' }]}
          value={slash ? ['slash'] : []}
          onChange={(now) => setSlash(now.includes('slash'))}
        />
        <Button wide onClick={onSignOut}>
          Sign out
        </Button>
      </div>
    </div>
  )
}
