import { cleanup, fireEvent, render, screen } from '@testing-library/react'
import { useState } from 'react'
import { afterEach, expect, test, vi } from 'vitest'
import { divisions, type Keyed, NOTHING_KEYED } from '#web/lib/keyed.ts'
import { Keypad, type KeypadProps } from '#web/ui/keypad.tsx'

afterEach(cleanup)

const taken = vi.fn()
const back = vi.fn()

function Bench(props: Partial<KeypadProps>) {
  const [keyed, setKeyed] = useState<Keyed>(NOTHING_KEYED)
  const take = (value: Keyed) => {
    taken(divisions(value), value.digits)
    setKeyed(NOTHING_KEYED)
  }
  return (
    <>
      <output>{JSON.stringify(keyed)}</output>
      <input aria-label="Note" />
      <Keypad kind="dial" value={keyed} onChange={setKeyed} confirm="It reads this" onConfirm={take} onBackOne={back} {...props} />
    </>
  )
}

function start(props: Partial<KeypadProps> = {}) {
  taken.mockClear()
  back.mockClear()
  render(<Bench {...props} />)
}

function press(...names: string[]) {
  for (const name of names) fireEvent.click(screen.getByRole('button', { name }))
}

function type(...keys: string[]) {
  for (const key of keys) fireEvent.keyDown(document.body, { key })
}

test('a reading by fingers: minus five, half more', () => {
  start()
  press('5', 'minus', 'half more', 'It reads this')
  expect(taken).toHaveBeenCalledExactlyOnceWith(-5.5, '5')
})

test('two equal digits in quick succession are both taken', () => {
  start()
  press('1', '1', 'It reads this')
  expect(taken).toHaveBeenCalledWith(11, '11')
})

test('rub out takes back, the big key without a number does nothing', () => {
  start()
  press('8', 'rub out', 'It reads this', 'minus', 'It reads this')
  expect(taken).not.toHaveBeenCalled()
})

test('a double tap on the big key takes one reading, not two', () => {
  start()
  press('8', 'It reads this', 'It reads this')
  expect(taken).toHaveBeenCalledTimes(1)
  press('8', 'It reads this')
  expect(taken).toHaveBeenCalledTimes(2)
})

test('a double tap on back one goes back one; without the guard, two', () => {
  start()
  press('back one', 'back one')
  expect(back).toHaveBeenCalledTimes(1)
  cleanup()
  start({ guardMs: 0 })
  press('back one', 'back one')
  expect(back).toHaveBeenCalledTimes(2)
})

test('a reading by keyboard: 8 readings one after another', () => {
  start()
  for (const reading of ['0', '7', '2', '-5', '0', '-6', '2', '8']) type(...reading, 'Enter')
  expect(taken.mock.calls.map(([value]) => value)).toEqual([0, 7, 2, -5, 0, -6, 2, 8])
})

test('comma, point, backspace and left arrow work too; a held key counts once', () => {
  start()
  type('3', 'Backspace', '4', ',')
  fireEvent.keyDown(document.body, { key: '9', repeat: true })
  type('Enter')
  expect(taken).toHaveBeenCalledExactlyOnceWith(4.5, '4')
  type('1', 'ArrowLeft')
  expect(back).toHaveBeenCalledTimes(1)
})

test('what is typed into a text field stays there', () => {
  start()
  fireEvent.keyDown(screen.getByLabelText('Note'), { key: '8' })
  fireEvent.keyDown(screen.getByLabelText('Note'), { key: 'Enter' })
  expect(document.querySelector('output')?.textContent).toContain('"digits":""')
})

test('Enter on a key that has the focus is left to that key', () => {
  start()
  press('8')
  fireEvent.keyDown(screen.getByRole('button', { name: '4' }), { key: 'Enter' })
  expect(taken).not.toHaveBeenCalled()
})

test('the keypad of a width knows no minus and no half, and keeps the nought in front', () => {
  start({ kind: 'tail', most: 2 })
  expect(screen.queryByRole('button', { name: 'minus' })).toBeNull()
  type('-', '.')
  press('0', '6', '9', 'It reads this')
  expect(taken).toHaveBeenCalledExactlyOnceWith(6, '06')
})

test('sign and half say whether they are on', () => {
  start()
  press('minus')
  expect(screen.getByRole('button', { name: 'minus' }).getAttribute('aria-pressed')).toBe('true')
  expect(screen.getByRole('button', { name: 'half more' }).getAttribute('aria-pressed')).toBe('false')
})
