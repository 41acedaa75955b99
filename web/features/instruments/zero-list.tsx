import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Instrument } from '#contract/instruments.ts'
import { readLength } from '#core/units.ts'
import { DoubtLine } from '#web/features/instruments/doubt-line.tsx'
import { instrumentsQuery, useCheckInstrument } from '#web/features/instruments/queries.ts'
import { isZeroedOn, zeroedOf } from '#web/features/instruments/words.ts'
import { dateIn, timeOfDay } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'

const MINUTE_MS = 60_000

/** Before the day's work: which dials and micrometers hold their zero today, one tap each. */
export function ZeroList() {
  const { zone } = useHere()
  const now = useNow(MINUTE_MS)
  const all = useQuery(instrumentsQuery)
  if (all.data === undefined) return null
  const today = dateIn(zone, now)
  const { read, done } = zeroedOf(all.data, today, zone)
  if (read.length === 0) return null
  return (
    <section className="zeroes" aria-labelledby="zeroes">
      <h2 id="zeroes">
        Zeroed today <small>{`${done} of ${read.length}`}</small>
      </h2>
      <ul className="register-rows" aria-label="Zeroed today">
        {read.map((one) => (
          <ZeroRow key={one.id} one={one} zeroed={isZeroedOn(one, today, zone)} zone={zone} now={now} />
        ))}
      </ul>
    </section>
  )
}

function ZeroRow({ one, zeroed, zone, now }: { one: Instrument; zeroed: boolean; zone: string; now: number }) {
  const check = useCheckInstrument(one.id)
  return (
    <li className="zero-row">
      <b>{one.name}</b>
      <span role="status">
        {zeroed && one.zeroedAt !== undefined ? <>holds, {timeOfDay(one.zeroedAt, zone)}</> : <span className="soft">not yet today</span>}
      </span>
      <span>
        <DoubtLine one={one} zone={zone} now={now} />
        {check.isError && <span className="wrong">{inWords(check.error)}</span>}
      </span>
      <Buttons>
        <Button aria-label={`Zero holds: ${one.name}`} busy={check.isPending} onClick={() => check.mutate({ kind: 'zero', held: true })}>
          Zero holds
        </Button>
        <Fold open="It is off" label={`It is off: ${one.name}`}>
          {(shut) => <OffForm one={one} onShut={shut} />}
        </Fold>
      </Buttons>
    </li>
  )
}

/** By how much it is off its zero, as it stands; the figure may be left out. */
function OffForm({ one, onShut }: { one: Instrument; onShut(): void }) {
  const check = useCheckInstrument(one.id)
  const [typed, setTyped] = useState('')
  const read = readLength(typed, 'mm')
  const send = () => {
    if (!read.ok && read.reason !== 'nothing-typed') return
    check.mutateAsync({ kind: 'zero', held: false, ...(read.ok ? { offMm: read.value.mm } : {}) }).then(onShut, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label={`${one.name} is off its zero`}>
      <MeasureField
        label="It reads more by"
        hint="below zero where it reads less"
        unit="mm"
        name="offMm"
        value={typed}
        onChange={setTyped}
      />
      <p>It signs nothing until a check finds it good.</p>
      {check.isError && <p className="wrong">{inWords(check.error)}</p>}
      <Buttons>
        <Button type="submit" busy={check.isPending}>
          Put it in doubt
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
