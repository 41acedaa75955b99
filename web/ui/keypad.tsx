import { type MouseEvent, type ReactNode, useCallback, useEffect, useRef } from 'react'
import { takesText } from '#web/lib/find-keys.ts'
import { isNumber, type Keyed, type PadKey, press } from '#web/lib/keyed.ts'
import { sayRefused, sayTaken, spoken } from '#web/lib/read-back.ts'

export interface KeypadProps {
  /** `dial`: divisions of a dial, with minus and half. `tail`: the last figures of a width, digits only. */
  kind: 'dial' | 'tail'
  value: Keyed
  onChange(value: Keyed): void
  /** The big key: `It reads this`. Takes only what stands for a number. */
  confirm: ReactNode
  onConfirm(value: Keyed): void
  /** Back to the cell before. */
  onBackOne(): void
  /** How many digits fit: 3 unless said. */
  most?: number
  /** A second press of the big key (or of back one) within this time, with nothing keyed between, is a shaking hand and is not taken. */
  guardMs?: number
  /**
   * Whether this pad takes readings: the keys of a keyboard work too, wherever the focus is (but not in a text field), and
   * what was taken is said or shaken back where the tablet is set so. A PIN is neither.
   */
  keys?: boolean
  /** What is being keyed, in words; read out as it changes: `8 is 0.08 mm (3.1 thou) high`. */
  note?: ReactNode
}

const DIGITS = ['7', '8', '9', '4', '5', '6', '1', '2', '3'] as const

const BY_KEYBOARD: Readonly<Record<string, PadKey | 'confirm' | 'back'>> = {
  '-': 'minus',
  '\u2212': 'minus',
  Subtract: 'minus',
  '.': 'half',
  ',': 'half',
  Backspace: 'rub-out',
  Delete: 'rub-out',
  Enter: 'confirm',
  ArrowLeft: 'back',
}

const PRESSED_BY_ENTER = 'button, a, summary, input:not([type=radio], [type=checkbox])'

/** Digits for the keyboard are given here rather than in the table above. */
function keyOf(name: string): PadKey | 'confirm' | 'back' | undefined {
  return /^[0-9]$/.test(name) ? (name as PadKey) : BY_KEYBOARD[name]
}

/** The bench keypad: keys 20 mm square (--key), digits as they are read, one big key that takes the reading. */
export function Keypad({ kind, value, onChange, confirm, onConfirm, onBackOne, most = 3, guardMs = 400, keys = true, note }: KeypadProps) {
  const actedAt = useRef(Number.NEGATIVE_INFINITY)
  const dial = kind === 'dial'

  const act = useCallback(
    (name: PadKey | 'confirm' | 'back', atMs: number) => {
      if (name === 'confirm' || name === 'back') {
        const isTaken = atMs - actedAt.current >= guardMs && (name === 'back' || isNumber(value))
        if (!isTaken) {
          if (keys) sayRefused()
          return
        }
        actedAt.current = atMs
        if (name === 'back') onBackOne()
        else {
          if (keys) sayTaken(spoken(value, kind))
          onConfirm(value)
        }
        return
      }
      actedAt.current = Number.NEGATIVE_INFINITY
      if (!dial && (name === 'minus' || name === 'half')) return
      onChange(press(value, name, most))
    },
    [value, onChange, onConfirm, onBackOne, most, guardMs, dial, keys, kind],
  )

  useEffect(() => {
    if (!keys) return
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.repeat || event.ctrlKey || event.metaKey || event.altKey || takesText(event.target)) return
      const name = keyOf(event.key)
      if (name === undefined || document.querySelector('dialog[open]')) return
      // Enter on a key or link that has the focus presses that one; on a chip it does nothing of its own.
      if (name === 'confirm' && event.target instanceof Element && event.target.closest(PRESSED_BY_ENTER)) return
      event.preventDefault()
      act(name, event.timeStamp)
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [keys, act])

  const padKey = (name: PadKey | 'confirm' | 'back', words: ReactNode, look: string, spoken?: string) => (
    <button
      key={name}
      type="button"
      className={look}
      aria-label={spoken}
      aria-pressed={name === 'minus' ? value.negative : name === 'half' ? value.half : undefined}
      // A pressed key does not take the focus, so that Enter on a keyboard still means the big key.
      onPointerDown={(event) => event.preventDefault()}
      onMouseDown={(event) => event.preventDefault()}
      onClick={(event: MouseEvent) => act(name, event.timeStamp)}
    >
      {words}
    </button>
  )

  const digits = DIGITS.map((digit) => padKey(digit, digit, 'pad-digit'))
  return (
    <div className="keypad" data-kind={kind}>
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset would bring a border and a legend of its own */}
      <div className="pad" role="group" aria-label="Keypad">
        {dial ? (
          <>
            {digits.slice(0, 3)}
            {padKey('rub-out', 'rub out', 'pad-word')}
            {digits.slice(3, 6)}
            {padKey('back', 'back one', 'pad-word')}
            {digits.slice(6)}
            {padKey('confirm', confirm, 'pad-go pad-tall')}
            {padKey('minus', '\u2212', 'pad-digit', 'minus')}
            {padKey('0', '0', 'pad-digit')}
            {padKey('half', 'half more', 'pad-word')}
          </>
        ) : (
          <>
            {digits}
            {padKey('rub-out', 'rub out', 'pad-word')}
            {padKey('0', '0', 'pad-digit')}
            {padKey('back', 'back one', 'pad-word')}
            {padKey('confirm', confirm, 'pad-go pad-wide')}
          </>
        )}
      </div>
      <p className="pad-note" role="status">
        {note}
      </p>
    </div>
  )
}
