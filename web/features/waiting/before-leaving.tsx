import '#web/features/waiting/waiting.css'
import { useEffect, useId, useRef, useState } from 'react'
import { saveFile } from '#web/features/waiting/save-file.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import { useOutbox } from '#web/lib/outbox/use-outbox.ts'
import { Button } from '#web/ui/button.tsx'

export interface BeforeLeavingProps {
  personId: string
  onShut(): void
  onLeave(): void
}

/** Asked of a hand that signs out while something of theirs is not in the book. It opens over the page. */
export function BeforeLeaving({ personId, onShut, onLeave }: BeforeLeavingProps) {
  const box = useRef<HTMLDialogElement>(null)
  const heading = useId()
  const [busy, setBusy] = useState(false)
  const mine = useOutbox().filter((record) => record.personId === personId)

  useEffect(() => {
    if (box.current?.open === false) box.current.showModal()
  }, [])

  const send = () => {
    setBusy(true)
    const done = () => setBusy(false)
    outbox()?.sendNow().then(done, done)
  }
  return (
    <dialog ref={box} className="before-leaving" aria-labelledby={heading} onClose={onShut}>
      <h2 id={heading}>{mine.length === 0 ? 'Everything is in the book' : `${mine.length} not in the book yet`}</h2>
      {mine.length > 0 && (
        <p>
          They stay on this tablet under your name, and go out when you sign in here again. A file keeps them even if the tablet is lost.
        </p>
      )}
      {mine.length > 0 && (
        <>
          <Button wide busy={busy} onClick={send}>
            Send now
          </Button>
          <Button wide onClick={() => void saveFile(mine)}>
            Save as a file
          </Button>
        </>
      )}
      <Button wide onClick={onLeave}>
        {mine.length === 0 ? 'Sign out' : 'Sign out all the same'}
      </Button>
      <Button wide onClick={() => box.current?.close()}>
        Stay here
      </Button>
    </dialog>
  )
}
