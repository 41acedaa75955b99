import type { Side } from '#core/runout-verdict.ts'
import { cellsOf, endsToRead, isSkipped, type Mark, marksOf } from '#web/features/truing/marks-to-read.ts'
import type { ReadingState } from '#web/features/truing/reading-state.ts'
import { mm } from '#web/lib/format.ts'
import { divisions, divisionsToMm, isNumber, type Keyed } from '#web/lib/keyed.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface ReadingGridProps {
  state: ReadingState
  onGo(at: number): void
  /** Read a skipped mark after all. */
  onUnskip(side: Side, deg: number): void
}

/** What stands in the ringed cell while it is keyed. */
export function keyedText(keyed: Keyed, stepMm: number): string {
  if (!isNumber(keyed)) return keyed.negative ? '\u2212' : ''
  return mm(divisionsToMm(divisions(keyed), stepMm), keyed.half ? stepMm / 2 : stepMm)
}

/** Half a division shows its digit, a whole one does not. */
export function takenText(value: number, stepMm: number): string {
  const isHalf = Math.abs(Math.round((2 * value) / stepMm)) % 2 === 1
  return mm(value, isHalf ? stepMm / 2 : stepMm)
}

/** The marks of both ends; the ringed cell shows what is being keyed. A figure already in can be gone back to. */
export function ReadingGrid({ state, onGo, onUnskip }: ReadingGridProps) {
  const { setUp, taken, at, keyed } = state
  if (setUp.readAt === 'swing') return null
  const marks = marksOf(setUp)
  const ends = endsToRead(setUp.held)
  const cells = cellsOf(setUp)
  const where = (side: Side, mark: Mark) => cells.findIndex((cell) => cell.side === side && cell.name === mark.name)
  return (
    <table className="reading-grid" data-marks={setUp.readAt}>
      <caption className="spoken">Readings of this set, mm</caption>
      <thead>
        <tr>
          <td />
          {marks.map((mark, place) => (
            <th key={mark.name} scope="col">
              {place === 0 ? `${mark.name}, pin at dial` : mark.name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {ends.map((side) => (
          <tr key={side}>
            <th scope="row">
              <EndMark end={side} letter size={24} />
            </th>
            {marks.map((mark) => {
              const place = where(side, mark)
              const one = taken[place]
              const name = `${side} end at ${mark.name}`
              if (isSkipped(setUp, side, mark))
                return (
                  <td key={mark.name}>
                    <button
                      type="button"
                      className="reading-cell reading-skipped"
                      aria-label={`${name}: skipped, a keyway lies there. Read it after all`}
                      onClick={() => onUnskip(side, mark.deg)}
                    >
                      keyway
                    </button>
                  </td>
                )
              if (place === at)
                return (
                  <td key={mark.name}>
                    <output className="reading-cell reading-on" aria-label={`${name}, being keyed`}>
                      {keyedText(keyed, setUp.stepMm)}
                    </output>
                  </td>
                )
              return (
                <td key={mark.name}>
                  {one === null || one === undefined ? (
                    <span className="reading-cell" />
                  ) : (
                    <button
                      type="button"
                      className="reading-cell"
                      aria-label={`${name}: ${takenText(one.mm, setUp.stepMm)}. Key it again`}
                      onClick={() => onGo(place)}
                    >
                      {takenText(one.mm, setUp.stepMm)}
                    </button>
                  )}
                </td>
              )
            })}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
