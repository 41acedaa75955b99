import { type ReactNode, useState } from 'react'
import type { Instrument } from '#contract/instruments.ts'
import type { GaugeBand } from '#core/bench/gauge-and-fit.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { Window } from '#core/width.ts'
import { lastMoves, type Tap } from '#web/features/pressings/creep.ts'
import { CreepSays } from '#web/features/pressings/creep-says.tsx'
import { oddTap } from '#web/features/pressings/odd-tap.ts'
import { useWidthNow } from '#web/features/pressings/queries.ts'
import { TapsSoFar } from '#web/features/pressings/taps-so-far.tsx'
import { type Stack, widthNow } from '#web/features/pressings/width-now.ts'
import { figure, mm } from '#web/lib/format.ts'
import { newId } from '#web/lib/id.ts'
import { instrumentFor } from '#web/lib/instrument-for.ts'
import { isNumber, type Keyed, NOTHING_KEYED } from '#web/lib/keyed.ts'
import { keyingWords, lengthKeyed } from '#web/lib/keyed-length.ts'
import { inWords } from '#web/lib/problem.ts'
import { readQuantity } from '#web/lib/quantity.ts'
import { AskedAgain } from '#web/ui/asked-again.tsx'
import { SelectField } from '#web/ui/field.tsx'
import { Keypad } from '#web/ui/keypad.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { WidthBands } from '#web/ui/width-bands.tsx'

const STEP_MM = 0.01

export interface CreepDeskProps {
  jobId: string
  cases: Window
  clearance: Window | undefined
  stack: Stack | undefined
  taps: readonly Tap[]
  /** What the fit foretells of the gauge, t; absent while it is not known. */
  band: GaugeBand | undefined
  sheet: EngineSheet
  instruments: readonly Instrument[]
  /** The micrometer that read the width of this crank last. */
  lastMike: string | undefined
  /** Where to measure the stack. */
  stackAt: ReactNode
  /** Goes on once it is at the aim: reading the width at all four places. */
  onward: ReactNode
}

/** The last hundredths under the ram: press, release, measure, key; both windows and how far to go stand beside the keys. */
export function CreepDesk({ jobId, cases, clearance, stack, taps, band, sheet, instruments, lastMike, stackAt, onward }: CreepDeskProps) {
  const mikes = instruments.filter((one) => one.kind === 'micrometer' && !one.ended)
  const [keyed, setKeyed] = useState<Keyed>(NOTHING_KEYED)
  const [temperature, setTemperature] = useState('')
  const [gauge, setGauge] = useState('')
  const [asked, setAsked] = useState<{ mm: number; says: string } | undefined>(undefined)
  const [mike, setMike] = useState(() => instrumentFor(mikes, lastMike, (cases.minMm + cases.maxMm) / 2)?.id ?? '')
  const [id, setId] = useState(newId)
  const take = useWidthNow(jobId)
  const stepMm = mikes.find((one) => one.id === mike)?.stepMm ?? STEP_MM
  const warmth = readQuantity(temperature, '°C')
  const last = taps.at(-1)
  const temperatureC = warmth.ok ? warmth.value : last?.temperatureC
  const stands = widthNow({ cases, clearance, stack, readMm: last?.mm, temperatureC: last?.temperatureC ?? temperatureC })
  const nearMm = last?.mm ?? stands.aimMm
  const keying = isNumber(keyed) ? lengthKeyed(keyed.digits, stepMm, nearMm) : ''

  const peak = readQuantity(gauge, 't')
  const peakTonnes = peak.ok && peak.value > 0 && peak.value <= 100 ? peak.value : undefined
  const send = () => {
    if (keying === '' || take.isPending) return
    const mm = Number(keying)
    const says = asked?.mm === mm ? undefined : oddTap({ mm, beforeMm: last?.mm, sheet })
    if (says !== undefined) {
      setAsked({ mm, says })
      setKeyed(NOTHING_KEYED)
      return
    }
    setAsked(undefined)
    take
      .mutateAsync({
        id,
        occurredAt: new Date().toISOString(),
        kind: 'width',
        phase: 'building',
        ...(mike === '' ? {} : { instrumentId: mike }),
        ...(temperatureC === undefined ? {} : { temperatureC }),
        ...(peakTonnes === undefined ? {} : { peakTonnes }),
        values: [{ place: '0', mm, typed: keying, unit: 'mm' }],
      })
      .then(
        () => {
          setKeyed(NOTHING_KEYED)
          setGauge('')
          setId(newId())
        },
        () => undefined,
      )
  }

  return (
    <>
      <section className="creep-top" aria-label="Width now">
        <p className="creep-now">
          <output className="fig" aria-label="Width">
            {keying !== '' ? keying : last === undefined ? '–' : mm(last.mm, stepMm)}
          </output>
          <span>{keying !== '' ? 'being keyed' : last === undefined ? 'not read yet, at the pin' : 'width now, at the pin'}</span>
        </p>
        {take.isError && (
          <ProblemSummary title="It is not in the book yet.">
            <p>{inWords(take.error)} The figure is still on the keys.</p>
          </ProblemSummary>
        )}
        {stands.rod !== undefined && clearance !== undefined && (
          <WidthBands cases={cases} rod={stands.rod} clearance={clearance} nowMm={stands.nowMm} aimMm={stands.aimMm} />
        )}
        {stack === undefined && (
          <p>
            Webs, rod and washers are not measured apart, so only the cases are known: {mm(cases.minMm, STEP_MM)} to{' '}
            {mm(cases.maxMm, STEP_MM)}. {stackAt}
          </p>
        )}
      </section>
      <section className="creep-say" aria-label="What to do next">
        <CreepSays stands={stands} moves={lastMoves(taps.map((tap) => tap.mm))} temperatureC={last?.temperatureC} onward={onward} />
        <TapsSoFar taps={taps} band={band} stepMm={stepMm} />
      </section>
      <section className="press-hand" aria-label="Keys">
        {asked !== undefined && <AskedAgain says={asked.says} />}
        <Keypad
          kind="tail"
          most={6}
          value={keyed}
          onChange={setKeyed}
          confirm={take.isPending ? 'Keeping it' : 'It measures this'}
          onConfirm={send}
          onBackOne={() => setKeyed(NOTHING_KEYED)}
          note={keying === '' ? keyingWords(stepMm, nearMm) : `${keying} mm, at the pin.`}
        />
        <QuantityField
          label="Peak of the gauge in this tap"
          unit="t"
          value={gauge}
          onChange={setGauge}
          hint={
            band === undefined ? undefined : `${figure(band.lowTonnes, 1)} to ${figure(band.highTonnes, 1)} t foretold; may be left out`
          }
        />
        <QuantityField
          label="Part feels warm? Its temperature"
          unit="°C"
          value={temperature}
          onChange={setTemperature}
          hint={temperature === '' && last?.temperatureC !== undefined ? `last time ${last.temperatureC} °C` : undefined}
        />
        <SelectField
          label="Read with"
          nothing="not said"
          choices={mikes.map((one) => ({ value: one.id, label: `${one.name}${one.overdue ? ' (overdue)' : ''}` }))}
          value={mike}
          onChange={(event) => setMike(event.target.value)}
        />
      </section>
    </>
  )
}
