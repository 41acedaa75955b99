import { warmPart } from '#core/bench/warm-part.ts'
import { isWithin } from '#core/runout-verdict.ts'
import { REFERENCE_TEMPERATURE_C } from '#core/units.ts'
import type { ReadKind, SheetFigures } from '#web/features/measurements/kinds.ts'
import { spreadWords, type WidthRead } from '#web/features/measurements/spread.ts'
import { WindowsForetold } from '#web/features/measurements/windows-foretold.tsx'
import { mm } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'

export interface SetSaysProps {
  kind: ReadKind
  /** Figures taken so far, by place, mm. */
  taken: Readonly<Record<string, number>>
  figures: SheetFigures
  stepMm: number
  temperatureC: number | undefined
}

/** What the figures come to while they are taken; the fit has a part of its own. */
export function SetSays({ kind, taken, figures, stepMm, temperatureC }: SetSaysProps) {
  switch (kind) {
    case 'width':
      return <WidthSays taken={taken} figures={figures} stepMm={stepMm} temperatureC={temperatureC} />
    case 'clearance':
      return (
        <AgainstWindow
          name="Allowed"
          read={Object.values(taken)}
          least={figures.clearanceMinMm}
          most={figures.clearanceMaxMm}
          stepMm={stepMm}
        />
      )
    case 'play':
      return (
        <AgainstWindow
          name="Up and down allowed"
          read={taken['up-down'] === undefined ? [] : [taken['up-down']]}
          least={undefined}
          most={figures.playLimitMm}
          stepMm={stepMm}
        />
      )
    case 'stack':
      return <WindowsForetold stack={taken} figures={figures} />
    default:
      return null
  }
}

function WidthSays({ taken, figures, stepMm, temperatureC }: Omit<SetSaysProps, 'kind'>) {
  const read = Object.values(taken)
  const middle = read.length === 0 ? undefined : read.reduce((sum, one) => sum + one, 0) / read.length
  const canWarm = middle !== undefined && temperatureC !== undefined && temperatureC >= -20 && temperatureC <= 150
  const warm = canWarm ? warmPart(middle, temperatureC) : null
  return (
    <div>
      {spreadWords(taken as WidthRead, stepMm).map((line) => (
        <p key={line} className="set-word">
          {line}
        </p>
      ))}
      <AgainstWindow
        name="Allowed"
        read={middle === undefined ? [] : [middle]}
        least={figures.widthMinMm}
        most={figures.widthMaxMm}
        stepMm={stepMm}
        said={middle === undefined ? undefined : `Middle of them ${mm(middle, stepMm / 10)}.`}
      />
      {warm !== null && (
        <p className="set-word">
          <Over>
            {Math.abs(Number(warm.awayK.toFixed(1)))} K {warm.awayK > 0 ? 'warm' : 'cold'}: it reads{' '}
            {mm(Math.abs(warm.wideMm), stepMm / 10)} {warm.wideMm > 0 ? 'wide' : 'narrow'}
          </Over>
          . At {REFERENCE_TEMPERATURE_C} °C that middle is {mm(warm.at20Mm, stepMm / 10)}. Never measure a width warm.
        </p>
      )}
    </div>
  )
}

interface AgainstWindowProps {
  name: string
  read: readonly number[]
  least: number | undefined
  most: number | undefined
  stepMm: number
  said?: string | undefined
}

function AgainstWindow({ name, read, least, most, stepMm, said }: AgainstWindowProps) {
  const isUnder = least !== undefined && read.some((one) => !isWithin(least, one))
  const isOver = most !== undefined && read.some((one) => !isWithin(one, most))
  const words =
    least === undefined && most === undefined
      ? 'The sheet of this engine has no window for this.'
      : `${name} ${least === undefined ? 'up to' : `${mm(least, stepMm)} to`} ${most === undefined ? 'any' : mm(most, stepMm)}.`
  return (
    <p className="set-word">
      {said} {words} {isUnder && <Over>under it</Over>} {isOver && <Over>over it</Over>}
    </p>
  )
}
