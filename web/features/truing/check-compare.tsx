import type { Measurement } from '#contract/measurements.ts'
import type { Check } from '#contract/truing.ts'
import { isWithin, SIDES, type Side } from '#core/runout-verdict.ts'
import { runOf } from '#web/features/truing/marks-said.ts'
import { placeWords } from '#web/features/truing/set-up.ts'
import { tirText } from '#web/features/truing/tir-text.ts'
import { HELD_SHORT } from '#web/features/truing/words.ts'
import { dayAndTime, decimalsOf, figure } from '#web/lib/format.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface CheckCompareProps {
  check: Check
  zone: string
  now: number
}

interface Shown {
  name: string
  set: Measurement
}

/** All readings of the check side by side, and how far apart they may be. */
export function CheckCompare({ check, zone, now }: CheckCompareProps) {
  const shown = (['first', 'second', 'third'] as const).flatMap((name): Shown[] => {
    const set = check[name]
    return set === undefined || set.hidden ? [] : [{ name, set }]
  })
  if (shown.length < 2) return null
  const stepMm = Math.min(...shown.map(({ set }) => set.instrument?.stepMm ?? 0.01))
  return (
    <section aria-label="The readings beside each other">
      <table className="check-sets">
        <caption className="spoken">Full swing of each end by set, mm</caption>
        <thead>
          <tr>
            <th scope="col">end</th>
            {shown.map(({ name }) => (
              <th key={name} scope="col" className="n">
                {name}
              </th>
            ))}
            <th scope="col" className="n">
              apart
            </th>
            <th scope="col" className="n">
              may be
            </th>
          </tr>
        </thead>
        <tbody>
          {SIDES.map((side) => (
            <tr key={side}>
              <th scope="row">
                <EndMark end={side} letter size={22} />
              </th>
              {shown.map(({ name, set }) => (
                <td key={name} className="n">
                  {swing(set, side, stepMm)}
                </td>
              ))}
              <Apart shown={shown} side={side} stepMm={stepMm} />
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">
        Two readings of the same worth may be √2 × the give-or-take apart, 19 times in 20. Apart: first and second
        {shown.length > 2 ? '; the third settles it where it agrees with either' : ''}.
      </p>
      <ul className="plain-list">
        {shown.map(({ name, set }) => (
          <li key={name}>
            <b>{name}</b>: {set.by}, {dayAndTime(set.occurredAt, zone, now)}. {setUpWords(set)}
          </li>
        ))}
      </ul>
    </section>
  )
}

function swing(set: Measurement, side: Side, stepMm: number): string {
  const end = set.runout?.[side]
  return end === undefined ? '–' : tirText(end.tirMm, stepMm)
}

/** √2 × the coarser give-or-take of the two, and how far first and second are apart. */
function Apart({ shown, side, stepMm }: { shown: Shown[]; side: Side; stepMm: number }) {
  const [first, second] = shown.map(({ set }) => set.runout)
  const one = first?.[side]?.tirMm
  const other = second?.[side]?.tirMm
  const worth = Math.max(...shown.map(({ set }) => (side === 'left' ? set.runout?.giveOrTake.leftMm : set.runout?.giveOrTake.rightMm) ?? 0))
  const mayMm = Math.SQRT2 * worth
  const apart = one === undefined || other === undefined ? undefined : Math.abs(one - other)
  const isFar = apart !== undefined && !isWithin(apart, mayMm)
  const decimals = Math.max(3, decimalsOf(stepMm))
  return (
    <>
      <td className="n">
        <span className={isFar ? 'over' : undefined}>
          {apart === undefined ? '–' : figure(apart, decimals)}
          {isFar && <span className="spoken"> too far apart</span>}
        </span>
      </td>
      <td className="n">{figure(mayMm, decimals)}</td>
    </>
  )
}

function setUpWords(set: Measurement): string {
  if (set.notReadBecause !== undefined) return `Not read, because ${set.notReadBecause}.`
  const { setup, instrument, temperatureC } = set
  if (setup === undefined) return ''
  const parts = [
    HELD_SHORT[setup.held],
    `left ${placeWords(setup, 'left')}`,
    `right ${placeWords(setup, 'right')}`,
    ...(instrument === undefined ? [] : [instrument.name]),
    ...(runOf(setup) === 'clockwise' ? [] : ['marks anticlockwise']),
    `${setup.cold ? 'cold' : 'still warm'}${temperatureC === undefined ? '' : `, ${temperatureC} °C`}`,
  ]
  return `${parts.join('; ')}.`
}
