import { cleanup, fireEvent, render, screen } from '@testing-library/react'
import { useState } from 'react'
import { afterEach, expect, test, vi } from 'vitest'
import { Button } from '#web/ui/button.tsx'
import { AreaField, DateField, SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick, PickMany } from '#web/ui/pick.tsx'

afterEach(cleanup)

function Booking({ onSend, enter = 'next' }: { onSend: () => void; enter?: 'next' | 'sends' }) {
  const [why, setWhy] = useState<'knock' | 'rust' | undefined>(undefined)
  const [came, setCame] = useState<('keys' | 'nut')[]>([])
  return (
    <Form enter={enter} onSend={onSend}>
      <TextField label="Name" name="name" />
      <SelectField label="Engine" choices={[{ value: 'a', label: 'Ruskhammar R449-4X' }]} nothing="not chosen" />
      <Pick
        label="Why now"
        options={[
          { value: 'knock', label: 'knock' },
          { value: 'rust', label: 'rust' },
        ]}
        value={why}
        onChange={setWhy}
      />
      <PickMany
        label="What came with it"
        options={[
          { value: 'keys', label: 'keys' },
          { value: 'nut', label: 'nut' },
        ]}
        value={came}
        onChange={setCame}
      />
      <AreaField label="Remarks" />
      <DateField label="They want it by" />
      <Button type="submit">Tag it</Button>
      <output>{JSON.stringify({ why, came })}</output>
    </Form>
  )
}

function enter(on: HTMLElement, more: object = {}): boolean {
  return fireEvent.keyDown(on, { key: 'Enter', ...more })
}

test('Enter walks from field to field and never sends', () => {
  const onSend = vi.fn()
  render(<Booking onSend={onSend} />)
  const stops = [
    screen.getByLabelText('Name'),
    screen.getByLabelText('Engine'),
    screen.getByLabelText('knock'),
    screen.getByLabelText('keys'),
    screen.getByLabelText('nut'),
    screen.getByLabelText('Remarks'),
  ]
  stops[0]!.focus()
  for (const [place, stop] of stops.slice(0, -1).entries()) {
    expect(enter(stop)).toBe(false)
    expect(document.activeElement).toBe(stops[place + 1])
  }
  // In a text of several lines Enter is a new line.
  expect(enter(stops.at(-1)!)).toBe(true)
  expect(onSend).not.toHaveBeenCalled()
})

test('Enter leaves a group of radio buttons at the one chosen', () => {
  render(<Booking onSend={() => {}} />)
  fireEvent.click(screen.getByLabelText('rust'))
  screen.getByLabelText('Engine').focus()
  enter(screen.getByLabelText('Engine'))
  expect(document.activeElement).toBe(screen.getByLabelText('rust'))
  enter(screen.getByLabelText('rust'))
  expect(document.activeElement).toBe(screen.getByLabelText('keys'))
})

test('Ctrl+Enter sends from anywhere, and so does the button', () => {
  const onSend = vi.fn()
  render(<Booking onSend={onSend} />)
  enter(screen.getByLabelText('Remarks'), { ctrlKey: true })
  expect(onSend).toHaveBeenCalledTimes(1)
  fireEvent.click(screen.getByRole('button', { name: 'Tag it' }))
  expect(onSend).toHaveBeenCalledTimes(2)
})

test('in a short form Enter is left to the browser, which sends', () => {
  render(<Booking onSend={() => {}} enter="sends" />)
  expect(enter(screen.getByLabelText('Name'))).toBe(true)
})

test('while a word is being composed Enter belongs to the keyboard', () => {
  render(<Booking onSend={() => {}} />)
  expect(enter(screen.getByLabelText('Name'), { isComposing: true })).toBe(true)
})

test('chips are radio buttons and check boxes under labels, in groups with a name', () => {
  render(<Booking onSend={() => {}} />)
  expect(screen.getByRole('radiogroup', { name: 'Why now' })).toBeTruthy()
  expect(screen.getByRole('group', { name: 'What came with it' })).toBeTruthy()
  fireEvent.click(screen.getByRole('radio', { name: 'knock' }))
  fireEvent.click(screen.getByRole('checkbox', { name: 'nut' }))
  fireEvent.click(screen.getByRole('checkbox', { name: 'keys' }))
  expect(document.querySelector('output')?.textContent).toBe('{"why":"knock","came":["keys","nut"]}')
  fireEvent.click(screen.getByRole('checkbox', { name: 'nut' }))
  expect(document.querySelector('output')?.textContent).toBe('{"why":"knock","came":["keys"]}')
})

test('label, hint, unit and fault all belong to the field', () => {
  render(<TextField label="Hours on this crank" unit="h" hint="Off the meter if it has one" error="Write how many." />)
  const field = screen.getByLabelText('Hours on this crank, h')
  expect(field.getAttribute('aria-invalid')).toBe('true')
  const said = field
    .getAttribute('aria-describedby')!
    .split(' ')
    .map((id) => document.getElementById(id)?.textContent)
  expect(said).toEqual(['Off the meter if it has one', 'Write how many.'])
})

test('a field without hint or fault claims neither', () => {
  render(<TextField label="Name" />)
  expect(screen.getByLabelText('Name').hasAttribute('aria-describedby')).toBe(false)
  expect(screen.getByLabelText('Name').hasAttribute('aria-invalid')).toBe(false)
})

test('the summary takes the focus, again with each try, and leads to the field', () => {
  const summary = (attempt: number) => (
    <>
      <TextField label="Engine number" name="engineNumber" />
      <ProblemSummary
        title="It is not tagged yet."
        faults={[{ name: 'engineNumber', text: 'Engine number: write something here.' }]}
        attempt={attempt}
      />
    </>
  )
  const { rerender } = render(summary(1))
  expect(document.activeElement).toBe(screen.getByRole('alert'))
  fireEvent.click(screen.getByRole('button', { name: 'Engine number: write something here.' }))
  expect(document.activeElement).toBe(screen.getByLabelText('Engine number'))
  rerender(summary(2))
  expect(document.activeElement).toBe(screen.getByRole('alert'))
})

test('a button that is busy keeps the focus and swallows presses', () => {
  const onClick = vi.fn()
  const { rerender } = render(<Button onClick={onClick}>Tag it</Button>)
  const button = screen.getByRole('button')
  button.focus()
  rerender(
    <Button onClick={onClick} busy>
      Tag it
    </Button>,
  )
  fireEvent.click(button)
  expect(onClick).not.toHaveBeenCalled()
  expect(document.activeElement).toBe(button)
  expect(button.getAttribute('aria-disabled')).toBe('true')
})
