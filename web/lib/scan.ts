import { useEffect, useRef } from 'react'
import { flushSync } from 'react-dom'
import { takesText } from '#web/lib/find-keys.ts'

/** A hand scanner works as a keyboard: a whole code in a burst, often with Enter or Tab after it. Nobody types so fast. */
const LEAST_CHARACTERS = 6
const MEAN_GAP_MS = 35
/** A key of a person is answered within 50 ms all the same. */
const PAUSE_MS = 45
/** A figure or a letter, or the bracket of the mark that some scanners put first. */
const BEGINS = /^[\p{L}\d\]]$/u

interface Stroke {
  event: KeyboardEvent
  /** By the layout of this machine. */
  key: string
  /** By the place of the key, as on the keyboard that the scanner pretends to be. */
  byPlace: string
}

const BY_PLACE: Readonly<Record<string, readonly [plain: string, shifted: string]>> = {
  Minus: ['-', '_'],
  Slash: ['/', '?'],
  Period: ['.', '>'],
  Semicolon: [';', ':'],
  BracketRight: [']', '}'],
}

/** What a key would write on the keyboard that scanners are set to, whatever layout this machine has. */
export function byPlace({ code, key, shiftKey }: Pick<KeyboardEvent, 'code' | 'key' | 'shiftKey'>): string {
  const letter = /^(?:Key([A-Z])|(?:Digit|Numpad)(\d))$/.exec(code)
  if (letter !== null) return letter[1] ?? letter[2] ?? key
  return BY_PLACE[code]?.[shiftKey ? 1 : 0] ?? key
}

/** Put back by hand, these are let through. */
const sentOn = new WeakSet<Event>()

/**
 * Tells codes that a hand scanner types from what a person types, wherever the focus is. Outside of text fields the keys
 * are held back for the blink that it takes to tell, so that a scan keys no reading; what a scanner wrote into a text field
 * is taken out again where it is a code of ours. Password fields are left alone. The readings of a scan are what the
 * scanner meant by the places of the keys, and what this machine made of them.
 */
export function listenForScans({ onCode, isOurs }: { onCode(readings: string[]): void; isOurs(readings: string[]): boolean }): () => void {
  let strokes: Stroke[] = []
  let field: { input: HTMLInputElement | HTMLTextAreaElement; before: string } | undefined
  let timer: ReturnType<typeof setTimeout> | undefined

  const isBurst = () => {
    const [first, last] = [strokes[0], strokes.at(-1)]
    if (first === undefined || last === undefined || strokes.length < LEAST_CHARACTERS) return false
    return (last.event.timeStamp - first.event.timeStamp) / (strokes.length - 1) <= MEAN_GAP_MS
  }
  const take = () => {
    clearTimeout(timer)
    const taken = { strokes, field }
    strokes = []
    field = undefined
    return taken
  }
  const asTyped = () => {
    const { strokes: typed, field: written } = take()
    if (written === undefined) for (const { event } of typed) sendOn(event)
  }
  /** Whether it was a scan, and was taken as one. */
  const isTaken = (): boolean => {
    const readings = [strokes.map((one) => one.byPlace).join(''), strokes.map((one) => one.key).join('')]
    if (!isBurst() || (field !== undefined && !isOurs(readings))) {
      asTyped()
      return false
    }
    const { field: written } = take()
    if (written !== undefined) writeBack(written.input, written.before)
    onCode(readings)
    return true
  }

  const onKey = (event: KeyboardEvent) => {
    if (sentOn.has(event) || event.repeat || event.key === 'Shift' || event.key === 'CapsLock') return
    const last = strokes.at(-1)
    if (last !== undefined && event.timeStamp - last.event.timeStamp > PAUSE_MS) isTaken()
    if (event.key === 'Enter' || event.key === 'Tab') {
      if (isTaken()) swallow(event)
      return
    }
    const isWritten = event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey
    const { target } = event
    const begins = strokes.length > 0 || BEGINS.test(byPlace(event))
    if (!isWritten || !begins || (target instanceof HTMLInputElement && target.type === 'password')) {
      asTyped()
      return
    }
    if (takesText(target)) {
      if (strokes.length === 0 && (target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement))
        field = { input: target, before: target.value }
    } else swallow(event)
    strokes.push({ event, key: event.key, byPlace: byPlace(event) })
    clearTimeout(timer)
    timer = setTimeout(isTaken, PAUSE_MS)
  }
  window.addEventListener('keydown', onKey, { capture: true })
  return () => {
    asTyped()
    window.removeEventListener('keydown', onKey, { capture: true })
  }
}

function swallow(event: Event): void {
  event.preventDefault()
  event.stopImmediatePropagation()
}

function sendOn({ target, key, code, shiftKey }: KeyboardEvent): void {
  const again = new KeyboardEvent('keydown', { key, code, shiftKey, bubbles: true, cancelable: true })
  sentOn.add(again)
  // Each key is drawn before the next one is sent, as when they are pressed: a pad goes by what it shows.
  flushSync(() => target?.dispatchEvent(again))
}

/** By the setter of the element itself, so that React hears of it. */
function writeBack(input: HTMLInputElement | HTMLTextAreaElement, text: string): void {
  const kind = input instanceof HTMLInputElement ? HTMLInputElement : HTMLTextAreaElement
  Object.getOwnPropertyDescriptor(kind.prototype, 'value')?.set?.call(input, text)
  input.dispatchEvent(new Event('input', { bubbles: true }))
}

/** Listens as long as the page is shown. */
export function useScans(to: { onCode(readings: string[]): void; isOurs(readings: string[]): boolean }): void {
  const now = useRef(to)
  now.current = to
  useEffect(
    () => listenForScans({ onCode: (readings) => now.current.onCode(readings), isOurs: (readings) => now.current.isOurs(readings) }),
    [],
  )
}
