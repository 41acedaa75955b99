import { type ReactNode, useId, useRef, useState } from 'react'
import { Button } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'

export interface ReasonProps {
  /** What it opens with: `Let it pass, with a reason`. */
  open: ReactNode
  /** What is asked: `Why may it pass?` */
  label: string
  /** What is done: `Let it pass`. */
  confirm: ReactNode
  onConfirm(reason: string): void
  /** What will follow, said before it is done: `Prints on the certificate.` */
  children?: ReactNode
  busy?: boolean
  error?: string | undefined
  most?: number
}

/** An act that wants a reason, opened in its place: no window over the page, and nothing lost by looking away. */
export function Reason({ open, label, confirm, onConfirm, children, busy = false, error, most = 4000 }: ReasonProps) {
  const [shown, setShown] = useState(false)
  const [reason, setReason] = useState('')
  const [missing, setMissing] = useState(false)
  const panel = useId()
  const opener = useRef<HTMLButtonElement>(null)
  const asked = useRef<HTMLTextAreaElement>(null)

  const send = () => {
    if (reason.trim() === '') {
      setMissing(true)
      asked.current?.focus()
      return
    }
    setMissing(false)
    onConfirm(reason.trim())
  }

  return (
    <div className="reason">
      <Button ref={opener} aria-expanded={shown} aria-controls={panel} onClick={() => setShown(!shown)}>
        {open}
      </Button>
      <div id={panel} hidden={!shown} className="reason-panel">
        <Form enter="next" onSend={send}>
          {children}
          <AreaField
            ref={asked}
            label={label}
            value={reason}
            maxLength={most}
            error={error ?? (missing ? 'Write the reason in a few words.' : undefined)}
            onChange={(event) => setReason(event.target.value)}
          />
          <div className="buttons">
            <Button type="submit" kind="quiet" busy={busy}>
              {confirm}
            </Button>
            <Button
              onClick={() => {
                setShown(false)
                opener.current?.focus()
              }}
            >
              Leave it
            </Button>
          </div>
        </Form>
      </div>
    </div>
  )
}
