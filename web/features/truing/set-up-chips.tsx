import { runOf } from '#web/features/truing/marks-said.ts'
import { endsToRead } from '#web/features/truing/marks-to-read.ts'
import { placeWords, type ReadingSetUp } from '#web/features/truing/set-up.ts'
import { HELD_SHORT, SIDE_WORDS } from '#web/features/truing/words.ts'

export interface SetUpChipsProps {
  setUp: ReadingSetUp
  /** Name of the dial as the bench calls it. */
  dialName?: string | undefined
  onOpen(): void
}

const READ_AT_SHORT = { four: '12, 3, 6, 9', eight: 'eight marks', swing: 'full swing' } as const

/** How it lies, in one row of chips; each opens the set-up. */
export function SetUpChips({ setUp, dialName, onOpen }: SetUpChipsProps) {
  const ends = endsToRead(setUp.held)
  const dials = `${dialName ?? (ends.length > 1 ? 'two' : 'one')}, ${Number(setUp.stepMm.toFixed(5))} mm`
  const warmth = setUp.cold === undefined ? 'not said' : setUp.cold ? 'cold' : 'still warm'
  const chips: [string, string][] = [
    ['held on', HELD_SHORT[setUp.held]],
    ...ends.map((side): [string, string] => [SIDE_WORDS[side], placeWords(setUp, side)]),
    ['dials', dials],
    ['read at', READ_AT_SHORT[setUp.readAt]],
    ...(runOf(setUp) === 'clockwise' ? [] : [['marks', 'anticlockwise'] as [string, string]]),
    ['temperature', setUp.temperatureC === undefined ? warmth : `${warmth}, ${setUp.temperatureC} °C`],
  ]
  return (
    <div className="set-up-chips">
      <button type="button" className="set-up-short" onClick={onOpen}>
        {`Set-up: ${chips.map(([, says]) => says).join(' · ')}`}
      </button>
      {chips.map(([name, says]) => (
        <button key={name} type="button" onClick={onOpen}>
          <small>{name}</small> <span>{says}</span>
        </button>
      ))}
    </div>
  )
}
