import { fireEvent, screen, within } from '@testing-library/react'

// The keypad takes a second press of the big key only after a rest; in a test every press comes at its own time.
let at = 0
export function pressKey(name: string | RegExp): void {
  at += 1000
  const event = new MouseEvent('click', { bubbles: true })
  Object.defineProperty(event, 'timeStamp', { value: at })
  fireEvent(within(screen.getByRole('group', { name: 'Keypad' })).getByRole('button', { name }), event)
}

/** Keys digits and then the big key. */
export function keyIn(digits: string, bigKey: string): void {
  for (const digit of digits) pressKey(digit)
  pressKey(bigKey)
}
