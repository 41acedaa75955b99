import { render } from '@testing-library/react'
import { useState } from 'react'
import { afterEach, expect, test, vi } from 'vitest'
import { NOTHING_KEYED } from '#web/lib/keyed.ts'
import { listenForScans } from '#web/lib/scan.ts'
import { Keypad } from '#web/ui/keypad.tsx'

let stop = () => {}
afterEach(() => {
  stop()
  vi.useRealTimers()
})

function Pad() {
  const [keyed, setKeyed] = useState(NOTHING_KEYED)
  return (
    <>
      <output>{keyed.digits}</output>
      <Keypad kind="tail" most={5} value={keyed} onChange={setKeyed} confirm="It reads this" onConfirm={() => {}} onBackOne={() => {}} />
    </>
  )
}

test('keys pressed so fast that they are held back until they are no scan all reach the pad', () => {
  vi.useFakeTimers()
  render(<Pad />)
  stop = listenForScans({ onCode: () => {}, isOurs: () => false })
  for (const key of '21928') document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))
  // Not wrapped in act: it would draw only once, after all of them.
  vi.advanceTimersByTime(100)
  expect(document.querySelector('output')?.textContent).toBe('21928')
})
