import type { PracticeRun } from '#contract/practice.ts'
import { dialText } from '#web/features/practice/words.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

const HEADS = ['12, pin at dial', '3', '6', '9', '12 again'] as const

/** The marks of both ends as far as they are read, as on the reading screen of a real crank. */
export function PracticeGrid({ marks }: { marks: PracticeRun['readings'][number]['marks'] }) {
  return (
    <table className="reading-grid" data-marks="four">
      <caption className="spoken">Readings of this set, mm</caption>
      <thead>
        <tr>
          <td />
          {HEADS.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {(['left', 'right'] as const).map((side) => (
          <tr key={side}>
            <th scope="row">
              <EndMark end={side} letter size={24} />
            </th>
            {HEADS.map((head, place) => {
              const mark = marks[place]
              return (
                <td key={head}>
                  <span className="reading-cell practice-cell">
                    {mark === undefined ? '' : dialText(side === 'left' ? mark.leftMm : mark.rightMm)}
                  </span>
                </td>
              )
            })}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
