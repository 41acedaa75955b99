import { clockOfMark } from '#core/bench/marks-run.ts'
import { runOf } from '#web/features/truing/marks-said.ts'
import { cellsOf } from '#web/features/truing/marks-to-read.ts'
import { keyedText, takenText } from '#web/features/truing/reading-grid.tsx'
import { awaitsHigh, type ReadingState } from '#web/features/truing/reading-state.ts'
import { markName } from '#web/features/truing/words.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface SwingReadingProps {
  state: ReadingState
  onGo(at: number): void
  onHigh(deg: number): void
}

const HOURS = Array.from({ length: 12 }, (_, hour) => hour * 30)

/** Read as a whole swing: how far the dial swings in one turn, and which mark stands under it where it reads highest. */
export function SwingReading({ state, onGo, onHigh }: SwingReadingProps) {
  const { setUp, taken, at, keyed } = state
  const cells = cellsOf(setUp)
  const run = runOf(setUp)
  const now = cells[at]
  const asksHigh = awaitsHigh(taken[at], setUp)
  return (
    <div>
      <table className="reading-grid" data-marks="swing">
        <caption className="spoken">Full swing of each end, mm, and where it reads highest</caption>
        <thead>
          <tr>
            <td />
            <th scope="col">full swing</th>
            <th scope="col">highest at</th>
          </tr>
        </thead>
        <tbody>
          {cells.map((cell, place) => {
            const one = taken[place]
            const keying = place === at && !asksHigh
            return (
              <tr key={cell.place}>
                <th scope="row">
                  <EndMark end={cell.side} letter size={24} />
                </th>
                <td>
                  {keying ? (
                    <output className="reading-cell reading-on" aria-label={`${cell.side} end, full swing, being keyed`}>
                      {keyedText(keyed, setUp.stepMm)}
                    </output>
                  ) : one ? (
                    <button
                      type="button"
                      className="reading-cell"
                      aria-label={`${cell.side} end, full swing: ${takenText(one.mm, setUp.stepMm)}. Key it again`}
                      onClick={() => onGo(place)}
                    >
                      {takenText(one.mm, setUp.stepMm)}
                    </button>
                  ) : (
                    <span className="reading-cell" />
                  )}
                </td>
                <td>
                  <span className={`reading-cell${place === at && asksHigh ? ' reading-on' : ''}`}>
                    {one?.highAtDeg === undefined ? '' : one.mm === 0 ? '–' : markName(clockOfMark(one.highAtDeg, run))}
                  </span>
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
      {now !== undefined && asksHigh && (
        <fieldset className="high-mark">
          <legend>Which mark is under the dial where the {now.side} end reads highest?</legend>
          {HOURS.map((deg) => (
            <button key={deg} type="button" aria-label={`highest at ${markName(deg)}`} onClick={() => onHigh(clockOfMark(deg, run))}>
              {markName(deg)}
            </button>
          ))}
        </fieldset>
      )}
    </div>
  )
}
