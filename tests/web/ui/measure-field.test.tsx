import { cleanup, fireEvent, render, screen } from '@testing-library/react'
import { useState } from 'react'
import { afterEach, expect, test } from 'vitest'
import type { LengthUnit } from '#core/units.ts'
import { readMoney } from '#web/lib/quantity.ts'
import { MeasureField, QuantityField } from '#web/ui/measure-field.tsx'

afterEach(cleanup)

function Bench({ unit, error }: { unit: LengthUnit; error?: string }) {
  const [typed, setTyped] = useState('')
  return <MeasureField label="Width at the pin" unit={unit} value={typed} onChange={setTyped} error={error} />
}

function Till() {
  const [typed, setTyped] = useState('1.005')
  return <QuantityField label="Deposit" unit="EUR" value={typed} onChange={setTyped} read={(text) => readMoney(text, 'EUR')} />
}

function field(): HTMLInputElement {
  return screen.getByLabelText(/Width at the pin/)
}

function described(): string {
  return (field().getAttribute('aria-describedby') ?? '')
    .split(' ')
    .map((id) => document.getElementById(id)?.textContent ?? '')
    .join(' | ')
}

test('it is a text field with the decimal keys, and its label says the unit', () => {
  render(<Bench unit="mm" />)
  expect(field().type).toBe('text')
  expect(field().inputMode).toBe('decimal')
  expect(screen.getByLabelText('Width at the pin, mm')).toBe(field())
})

// 0.8 thou = 0.02032 mm, 3 tenths = 0.00762 mm (an inch is 25.4 mm exactly, NIST SP 811).
test.each([
  ['0.02', 'mm', '0.02 mm = 0.79 thou'],
  ['0,02', 'mm', '0.02 mm = 0.79 thou'],
  ['0,8 thou', 'mm', '0.8 thou = 0.0203 mm'],
  ['0.8', 'thou', '0.8 thou = 0.0203 mm'],
  ['3', 'tenth', '3 tenths = 0.0076 mm'],
  ['64', 'mm', '64 mm = 2519.69 thou'],
  ['-0.015', 'mm', '\u22120.015 mm = \u22120.59 thou'],
] as const)('%s in %s is read back as %s', (typed, unit, said) => {
  render(<Bench unit={unit} />)
  fireEvent.change(field(), { target: { value: typed } })
  expect(described()).toContain(said)
  expect(field().value).toBe(typed)
})

test('what cannot be read is said once the field is left, and what was typed stays', () => {
  render(<Bench unit="mm" />)
  fireEvent.change(field(), { target: { value: '1.234,5' } })
  expect(field().getAttribute('aria-invalid')).toBeNull()
  fireEvent.blur(field())
  expect(field().getAttribute('aria-invalid')).toBe('true')
  expect(described()).toContain('One decimal mark only')
  expect(field().value).toBe('1.234,5')
})

test('an empty field is no fault of its own', () => {
  render(<Bench unit="mm" />)
  fireEvent.blur(field())
  expect(field().getAttribute('aria-invalid')).toBeNull()
})

test('what the book refused goes before what the field finds', () => {
  render(<Bench unit="mm" error="From 10 to 300." />)
  expect(field().getAttribute('aria-invalid')).toBe('true')
  expect(described()).toContain('From 10 to 300.')
})

test('a quantity keeps its text and says what is wrong with it', () => {
  render(<Till />)
  const deposit = screen.getByLabelText('Deposit, EUR')
  fireEvent.blur(deposit)
  expect(document.getElementById(deposit.getAttribute('aria-describedby')!.split(' ').at(-1)!)?.textContent).toBe(
    '2 figures after the mark at most.',
  )
  fireEvent.change(deposit, { target: { value: '100' } })
  expect(deposit.getAttribute('aria-invalid')).toBeNull()
})
