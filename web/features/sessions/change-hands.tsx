import '#web/features/sessions/change-hands.css'
import { useEffect, useId, useRef, useState } from 'react'
import type { Door, Me } from '#contract/sessions.ts'
import { usePinSignIn } from '#web/features/sessions/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { Field } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { Keypad } from '#web/ui/keypad.tsx'

type Hand = Door['hands'][number]

export interface ChangeHandsProps {
  /** Who may take over by PIN. */
  hands: readonly Hand[]
  onShut(): void
  onIn(who: Me): void
}

const LEAST = 4
const MOST = 6

/** Pick a name, key the PIN, done. It opens over the page, so that a reading half keyed beneath it is not touched. */
export function ChangeHands({ hands, onShut, onIn }: ChangeHandsProps) {
  const box = useRef<HTMLDialogElement>(null)
  const heading = useId()
  const [who, setWho] = useState<Hand | undefined>(hands.length === 1 ? hands[0] : undefined)

  useEffect(() => {
    if (box.current?.open === false) box.current.showModal()
  }, [])

  return (
    <dialog ref={box} className="hands" aria-labelledby={heading} onClose={onShut}>
      <h2 id={heading}>{who === undefined ? 'Who takes over?' : `${who.name} takes over`}</h2>
      {who === undefined ? (
        <div className="hands-names">
          {hands.map((hand) => (
            <Button key={hand.id} wide onClick={() => setWho(hand)}>
              {hand.name}
            </Button>
          ))}
        </div>
      ) : (
        <PinPad key={who.id} who={who} onIn={onIn} />
      )}
      <Button wide onClick={() => (who === undefined || hands.length === 1 ? box.current?.close() : setWho(undefined))}>
        {who === undefined || hands.length === 1 ? 'Leave it' : 'Somebody else'}
      </Button>
    </dialog>
  )
}

function PinPad({ who, onIn }: { who: Hand; onIn: (who: Me) => void }) {
  const [pin, setPin] = useState('')
  const [short, setShort] = useState(false)
  const asking = usePinSignIn()
  const take = (digits: string) => {
    setShort(false)
    setPin(digits.replace(/\D/g, '').slice(0, MOST))
  }
  const send = () => {
    if (asking.isPending) return
    if (pin.length < LEAST) {
      setShort(true)
      return
    }
    asking.mutate({ personId: who.id, pin }, { onSuccess: onIn, onError: () => setPin('') })
  }
  return (
    <Form enter="sends" onSend={send}>
      <Field
        label={`PIN of ${who.name}`}
        error={short ? `A PIN has ${LEAST} to ${MOST} figures.` : asking.isError ? inWords(asking.error) : undefined}
      >
        {(wiring) => (
          <input
            {...wiring}
            className="hands-pin"
            type="password"
            // The keys below are the keypad: the tablet's own would cover them.
            inputMode="none"
            autoComplete="off"
            // biome-ignore lint/a11y/noAutofocus: the one thing asked in a window that was opened to be asked it
            autoFocus
            value={pin}
            onChange={(event) => take(event.target.value)}
          />
        )}
      </Field>
      <Keypad
        kind="tail"
        keys={false}
        most={MOST}
        value={{ digits: pin, negative: false, half: false }}
        onChange={(keyed) => take(keyed.digits)}
        confirm="Take over"
        onConfirm={send}
        onBackOne={() => take('')}
      />
    </Form>
  )
}
