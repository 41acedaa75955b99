import type { Instrument } from '#contract/instruments.ts'
import type { Phase, PhaseChoice } from '#web/features/measurements/kinds.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { SelectField } from '#web/ui/field.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface Around {
  phase: Phase
  /** Empty: not said. */
  instrumentId: string
  /** As typed. */
  temperature: string
}

export interface AroundSetProps {
  around: Around
  phases: readonly PhaseChoice[]
  instruments: readonly Instrument[]
  onChange(around: Around): void
}

/** What it is read with, when in the job, and how warm the part is. */
export function AroundSet({ around, phases, instruments, onChange }: AroundSetProps) {
  const { zone } = useHere()
  const today = dateIn(zone, Date.now())
  const chosen = instruments.find((one) => one.id === around.instrumentId)
  const phase = phases.length > 1 ? phases.find((one) => one.value === around.phase)?.label : undefined
  const said = [chosen?.name ?? 'nothing named', phase, around.temperature === '' ? undefined : `${around.temperature} °C`]
  return (
    <div className="around-set">
      {chosen?.overdue && (
        <p>
          <Over>
            {chosen.name} is overdue for its check{chosen.dueOn === undefined ? '' : ` since ${day(chosen.dueOn, today)}`}
          </Over>
          : nothing is signed on it. Take another, or check it first.
        </p>
      )}
      <details className="details-line">
        <summary>Read with {said.filter((word) => word !== undefined).join(' · ')}</summary>
        <div className="fields">
          <SelectField
            label="Read with"
            nothing="not said"
            choices={instruments.map((one) => ({
              value: one.id,
              label: `${one.name}, ${one.stepMm} mm${one.overdue ? ' (overdue)' : ''}`,
            }))}
            value={around.instrumentId}
            onChange={(event) => onChange({ ...around, instrumentId: event.target.value })}
          />
          <QuantityField
            label="Temperature of the part"
            unit="°C"
            value={around.temperature}
            onChange={(temperature) => onChange({ ...around, temperature })}
          />
        </div>
        {phases.length > 1 && (
          <Pick label="Which reading" options={phases} value={around.phase} onChange={(next) => onChange({ ...around, phase: next })} />
        )}
      </details>
    </div>
  )
}
