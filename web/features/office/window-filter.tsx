import { type FormEvent, useState } from 'react'
import { MONTHS, type Months, type WindowState, windowWords } from '#web/features/office/search.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Button } from '#web/ui/button.tsx'
import { DateField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface WindowFilterProps {
  state: WindowState
  /** The days that are counted now, as the book answered; where two days are to be named, they start from these. */
  counted: { from: string; to: string } | undefined
  onChange(state: { months: Months; from: string | undefined; to: string | undefined }): void
}

const OPTIONS = [
  ...MONTHS.map((months) => ({ value: months, label: `${months} months` })),
  { value: 'own', label: 'from a day to a day' },
] as const

/** How far back: a few whole lengths, or two days. What is chosen stands in the address. */
export function WindowFilter({ state, counted, onChange }: WindowFilterProps) {
  const { zone } = useHere()
  const today = dateIn(zone, Date.now())
  const isOwn = state.from !== undefined || state.to !== undefined
  const choose = (value: Months | 'own') =>
    value === 'own'
      ? onChange({ months: '12', from: counted?.from ?? today, to: counted?.to ?? today })
      : onChange({ months: value, from: undefined, to: undefined })
  return (
    <div className="window-filter">
      <Pick label="How far back" options={OPTIONS} value={isOwn ? 'own' : state.months} onChange={choose} />
      {isOwn && (
        <Days
          key={`${state.from} ${state.to}`}
          from={state.from ?? counted?.from ?? ''}
          to={state.to ?? counted?.to ?? ''}
          today={today}
          onShow={(from, to) => onChange({ months: '12', from, to })}
        />
      )}
      {counted !== undefined && (
        <p className="soft">
          Counted: {windowWords({ months: '12', from: counted.from, to: counted.to }, (date) => day(date, today))}, whole weeks or months.
        </p>
      )}
    </div>
  )
}

interface DaysProps {
  from: string
  to: string
  today: string
  onShow(from: string, to: string): void
}

/** Typed here first, so that a half-typed day asks nothing of the book. */
function Days({ from, to, today, onShow }: DaysProps) {
  const [typed, setTyped] = useState({ from, to })
  const [wrong, setWrong] = useState<string>()
  const show = (event: FormEvent) => {
    event.preventDefault()
    if (typed.from === '' || typed.to === '') return setWrong('Name both days.')
    if (typed.from > typed.to) return setWrong('The last day is before the first. Turn them round.')
    setWrong(undefined)
    onShow(typed.from, typed.to)
  }
  const named = (date: string) => (date === '' ? {} : { readBack: day(date, today) })
  return (
    <form className="days" onSubmit={show} noValidate>
      <DateField
        label="First day"
        value={typed.from}
        {...named(typed.from)}
        onChange={(event) => setTyped({ ...typed, from: event.target.value })}
      />
      <DateField
        label="Last day"
        value={typed.to}
        error={wrong}
        {...named(typed.to)}
        onChange={(event) => setTyped({ ...typed, to: event.target.value })}
      />
      <Button type="submit">Show these days</Button>
    </form>
  )
}
