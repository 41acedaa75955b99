import type { Instrument } from '#contract/instruments.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { type EndWorth, endWorth, helpsMost } from '#core/bench/end-worth.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import type { Side } from '#core/runout-verdict.ts'
import { endsToRead } from '#web/features/truing/marks-to-read.ts'
import type { ReadingSetUp } from '#web/features/truing/set-up.ts'
import { figure } from '#web/lib/format.ts'
import { EndMark } from '#web/ui/end-mark.tsx'

export interface WorthOfEnd extends Pick<EndWorth, 'giveOrTakeMm' | 'parts' | 'sets'> {
  side: Side
}

/** A give-or-take in mm, rounded up to the micrometre: rounded down it would promise more than the reading keeps. */
export function worthText(mm: number): string {
  return figure(Math.ceil(mm * 1000 - 1e-6) / 1000, 3)
}

/** What a reading in this set-up is worth before a figure is keyed; the book's answer stands. */
export function worthHere(setUp: ReadingSetUp, dial: Instrument | undefined): WorthOfEnd[] {
  return endsToRead(setUp.held).map((side) => ({ side, ...endWorth({ side, setUp, dial: { ...dial, stepMm: setUp.stepMm } }) }))
}

/** What a set in the book is worth; empty for one whose give-or-take came from a table. */
export function worthOfSet({ worth, giveOrTake }: RunoutFigures, held: WayOfHolding): WorthOfEnd[] {
  if (worth === undefined) return []
  return endsToRead(held).map((side) => ({
    side,
    ...worth[side],
    giveOrTakeMm: side === 'left' ? giveOrTake.leftMm : giveOrTake.rightMm,
  }))
}

export interface ReadingWorthProps {
  worth: readonly WorthOfEnd[]
  /** What it opens with, where the give-or-take itself stands beside it already. */
  opens?: string
  warm?: boolean
}

/** `Worth ± 0.008 at each end`; behind it what makes it so, part by part, and what would help most. */
export function ReadingWorth({ worth, opens, warm = false }: ReadingWorthProps) {
  if (worth.length === 0) return null
  return (
    <details className="reading-worth">
      <summary>{opens ?? summaryOf(worth)}</summary>
      {warm && <p>Still warm: that is not in it. Let it come to the temperature of the room.</p>}
      {worth.map((end) => (
        <section key={end.side} aria-label={`What the ${end.side} end is worth`}>
          <p>
            <EndMark end={end.side} letter size={18} /> {helpsMost(end.parts)}.
          </p>
          <ul className="plain-list">
            {[...end.parts]
              .sort((one, other) => other.share - one.share)
              .map((part) => (
                <li key={part.name}>
                  <span>{part.name}</span> <span className="fig">{figure(100 * part.share, 0)} %</span>{' '}
                  <i style={{ width: `${100 * part.share}%` }} aria-hidden="true" />
                </li>
              ))}
          </ul>
          {end.sets > 1 && <p className="soft">{end.sets} sets were read in this very set-up.</p>}
        </section>
      ))}
      <p className="soft">So much either way the true swing lies, 95 times in 100. The shares are of the squares.</p>
    </details>
  )
}

function summaryOf(worth: readonly WorthOfEnd[]): string {
  const says = worth.map((end) => worthText(end.giveOrTakeMm))
  if (worth.length > 1 && new Set(says).size === 1) return `Worth ± ${says[0]} at each end`
  return `Worth ± ${worth.map((end, place) => `${says[place]} ${end.side}`).join(', ')}`
}
