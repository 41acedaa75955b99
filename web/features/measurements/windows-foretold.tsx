import { width } from '#core/width.ts'
import type { SheetFigures } from '#web/features/measurements/kinds.ts'
import { mm } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'
import { WidthBands } from '#web/ui/width-bands.tsx'

const STEP_MM = 0.01

export interface WindowsForetoldProps {
  /** Figures of the stack by place, mm. */
  stack: Readonly<Record<string, number>>
  figures: SheetFigures
}

/** Both windows before anything is pressed: whether this kit can land in them at all, and where. */
export function WindowsForetold({ stack, figures }: WindowsForetoldProps) {
  const { 'web-left': webLeftMm, 'web-right': webRightMm, rod: rodWidthMm } = stack
  const { widthMinMm, widthMaxMm, clearanceMinMm, clearanceMaxMm } = figures
  if (webLeftMm === undefined || webRightMm === undefined || rodWidthMm === undefined)
    return <p className="soft">Both windows show here once both webs and the rod are in.</p>
  if (widthMinMm === undefined || widthMaxMm === undefined || clearanceMinMm === undefined || clearanceMaxMm === undefined)
    return <p className="soft">The sheet of this engine has no window for width or side clearance.</p>
  const washersMm = ['washer-1', 'washer-2'].flatMap((place) => stack[place] ?? [])
  const cases = { minMm: widthMinMm, maxMm: widthMaxMm }
  const clearance = { minMm: clearanceMinMm, maxMm: clearanceMaxMm }
  const { stackMm, aim, possible } = width({ webLeftMm, webRightMm, rodWidthMm, washersMm, width: cases, clearance })
  const rod = { minMm: stackMm + clearanceMinMm, maxMm: stackMm + clearanceMaxMm }
  return (
    <section aria-label="Both windows, before pressing">
      <h2>Both windows, before pressing</h2>
      <WidthBands cases={cases} rod={rod} clearance={clearance} aimMm={aim?.widthMm} />
      <p>
        Stacked {mm(stackMm, STEP_MM)}.{' '}
        {possible && aim !== undefined ? (
          `Aim at ${mm(aim.widthMm, STEP_MM)}: the rod then has ${mm(aim.clearanceMm, STEP_MM)}.`
        ) : (
          <Over>No width meets both windows: kit or washer is wrong. Stop, and measure them again.</Over>
        )}
      </p>
    </section>
  )
}
