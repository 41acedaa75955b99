import type { PlaceToRead } from '#web/features/measurements/kinds.ts'
import type { SetState } from '#web/features/measurements/set-state.ts'

export interface SetCellsProps {
  places: readonly PlaceToRead[]
  state: SetState
  /** What is being keyed, as it will be taken; empty while nothing is. */
  keying: string
  onGo(at: number): void
}

/** Every figure of the set. The ringed one is being keyed; one that is in can be gone back to. */
export function SetCells({ places, state, keying, onGo }: SetCellsProps) {
  return (
    <ol className="set-cells" aria-label="Figures of this set">
      {places.map(({ place, says }, index) => {
        const one = state.taken[index]
        if (index === state.at)
          return (
            <li key={place} className="set-cell set-on" aria-current="step">
              <span>{says}</span>
              <output className="fig" aria-label={`${says}, being keyed`}>
                {keying}
              </output>
            </li>
          )
        if (one === null || one === undefined)
          return (
            <li key={place} className="set-cell">
              <span>{says}</span>
              <span className="fig" />
            </li>
          )
        const figure = one === 'left-out' ? 'left out' : one.typed
        const unit = one === 'left-out' || one.unit === 'mm' || /[a-z]/i.test(one.typed) ? '' : one.unit === 'thou' ? ' thou' : ' tenths'
        return (
          <li key={place}>
            <button type="button" className="set-cell" aria-label={`${says}: ${figure}${unit}. Read it again`} onClick={() => onGo(index)}>
              <span>{says}</span>
              <span className={one === 'left-out' ? 'soft' : 'fig'}>
                {figure}
                {unit}
              </span>
            </button>
          </li>
        )
      })}
    </ol>
  )
}
