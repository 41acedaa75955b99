import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { byPlace, listenForScans } from '#web/lib/scan.ts'
import { scannedCode } from '#web/lib/scanned-code.ts'

// FRIENDLY's catalogue K1 to K4; the places of the keys are those of the US layout that scanners are set to (UI Events
// KeyboardEvent code Values, W3C 2017).

const ID = '0198f3a0-1111-7000-8000-00000000000a'
const LABEL = `http://book.shop.lan/jobs/${ID}`
const SHIFTED: Readonly<Record<string, string>> = { ':': 'Semicolon', '?': 'Slash', '}': 'BracketRight' }
const PLAIN: Readonly<Record<string, string>> = { '-': 'Minus', '/': 'Slash', '.': 'Period', ';': 'Semicolon', ']': 'BracketRight' }

let codes: string[][] = []
let heard: string[] = []
let stop = () => {}
let clock = 0
const hear = (event: KeyboardEvent) => heard.push(event.key)

beforeEach(() => {
  vi.useFakeTimers()
  codes = []
  heard = []
  window.addEventListener('keydown', hear)
  stop = listenForScans({ onCode: (readings) => codes.push(readings), isOurs: (readings) => !('fault' in scannedCode(readings)) })
})

afterEach(() => {
  stop()
  window.removeEventListener('keydown', hear)
  document.body.innerHTML = ''
  vi.useRealTimers()
})

function stroke(character: string, target: EventTarget, key = character): void {
  const code = /[a-z]/i.test(character)
    ? `Key${character.toUpperCase()}`
    : /\d/.test(character)
      ? `Digit${character}`
      : (SHIFTED[character] ?? PLAIN[character] ?? character)
  const event = new KeyboardEvent('keydown', { key, code, shiftKey: character in SHIFTED, bubbles: true, cancelable: true })
  Object.defineProperty(event, 'timeStamp', { value: clock })
  const wasTaken = !target.dispatchEvent(event)
  if (!wasTaken && key.length === 1 && (target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement)) target.value += key
}

/** Types a text with so many milliseconds between its keys; `ß` in `as` is what this machine's layout makes of it. */
function type(text: string, { gapMs, target = document.body, as = (one) => one, suffix = 'Enter' }: Typing): void {
  for (const character of text) {
    stroke(character, target, as(character))
    clock += gapMs
    vi.advanceTimersByTime(gapMs)
  }
  if (suffix !== '') stroke(suffix, target)
  clock += 500
  vi.advanceTimersByTime(500)
}
interface Typing {
  gapMs: number
  target?: HTMLElement
  as?: (character: string) => string
  suffix?: '' | 'Enter' | 'Tab'
}

test.each(['Enter', 'Tab', ''] as const)('a label is told from typing, whatever comes after it (%j), and keys nothing', (suffix) => {
  type(LABEL, { gapMs: 8, suffix })
  expect(codes).toHaveLength(1)
  expect(scannedCode(codes[0]!)).toEqual({ jobId: ID })
  expect(heard).toEqual([])
})

test.each([40, 80, 200])('typed by hand, %s ms from key to key, it goes where it was meant, once and in order', (gapMs) => {
  type('1318-F', { gapMs })
  expect(codes).toEqual([])
  expect(heard).toEqual([...'1318-F', 'Enter'])
})

test('five figures in a burst are a hand that rolls over the keys: they arrive', () => {
  type('64005', { gapMs: 5 })
  expect(codes).toEqual([])
  expect(heard).toEqual([...'64005', 'Enter'])
})

test.each([
  ['German', { y: 'z', z: 'y', '-': 'ß', '/': '-', ':': 'Ö', '.': '.' }],
  ['French', { '1': '&', '3': '"', '8': '_', '0': 'à', '-': ')', a: 'q', q: 'a', '/': '!', ':': 'M' }],
  ['Italian', { '-': "'", '/': '-', ':': 'ç' }],
])('on a machine with a %s layout the same crank is meant', (_layout, table: Record<string, string>) => {
  const as = (one: string) => table[one] ?? one
  type('1318-F', { gapMs: 10, as })
  type(LABEL, { gapMs: 10, as })
  expect(codes.map(scannedCode)).toEqual([{ tag: '1318-F' }, { jobId: ID }])
})

test('capitals, the mark of some scanners, two one after the other', () => {
  type(']Q1318-V', { gapMs: 6 })
  type(LABEL.toUpperCase(), { gapMs: 6 })
  expect(codes.map(scannedCode)).toEqual([{ tag: '318-V' }, { jobId: ID }])
})

test('in a text field a code of ours is taken out again, what was there before stays, and Enter sends no form', () => {
  document.body.innerHTML = '<form><input value="rack 4"></form>'
  const [form, input] = [document.querySelector('form')!, document.querySelector('input')!]
  const sent = vi.fn()
  form.addEventListener('submit', sent)
  const told = vi.fn()
  input.addEventListener('input', told)
  type(LABEL, { gapMs: 8, target: input })
  expect(scannedCode(codes[0]!)).toEqual({ jobId: ID })
  expect(input.value).toBe('rack 4')
  expect(told).toHaveBeenCalledTimes(1)
  expect(sent).not.toHaveBeenCalled()
})

test('what a scanner writes into a text field stays where it is no code of ours, such as the number of a parcel', () => {
  document.body.innerHTML = '<textarea></textarea><input type="password">'
  const [area, password] = [document.querySelector('textarea')!, document.querySelector<HTMLInputElement>('input')!]
  type('JJD0099999', { gapMs: 8, target: area, suffix: '' })
  expect(area.value).toBe('JJD0099999')
  type(LABEL, { gapMs: 8, target: password })
  expect(password.value).toBe(LABEL)
  expect(codes).toEqual([])
})

test.each([
  ['0318-V', { tag: '318-V' }],
  ['318W', { fault: '318-W is no tag of ours: look at the number and the letter again.' }],
  ['JJD0099999', { fault: 'This code is no tag and no label of the book.' }],
])('%s means %j', (text, meant) => {
  expect(scannedCode([text])).toEqual(meant)
})

test('the place of a key says what it writes, the number block included', () => {
  expect(byPlace({ code: 'Numpad7', key: '7', shiftKey: false })).toBe('7')
  expect(byPlace({ code: 'Semicolon', key: 'Ö', shiftKey: true })).toBe(':')
  expect(byPlace({ code: '', key: 'x', shiftKey: false })).toBe('x')
})
