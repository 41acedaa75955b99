import type { OfficeToday } from '#contract/office-today.ts'
import { FigureFoot } from '#web/features/office/figure-foot.tsx'
import { counted, money } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'

const LINES = [
  { key: 'deposits', of: 'deposits held', some: 'Deposits held', none: 'No deposit is held.' },
  { key: 'doneNotCollected', of: 'done, not paid', some: 'Done, on the shelf, not paid', none: 'Nothing on the shelf is left to pay.' },
  {
    key: 'unpaid',
    of: 'gone and not paid',
    some: 'Gone home a month and more ago, not paid',
    none: 'Nothing that went home is left to pay.',
  },
] as const

/** Money that is held, on the shelf, and out. */
export function MoneyLines({ held }: { held: OfficeToday['money'] }) {
  const { currency } = useHere()
  return (
    <ul className="office-lines" aria-label="Money">
      {LINES.map(({ key, of, some, none }) => {
        const figure = held[key]
        return (
          <li key={key}>
            <div className="office-says">
              {figure.n === 0 ? (
                none
              ) : (
                <>
                  {some}: {money(figure.minor, currency, true)}, {counted(figure.n, 'crank')}.
                </>
              )}
            </div>
            <FigureFoot figure={figure} of={of} />
          </li>
        )
      })}
    </ul>
  )
}
