import type { RunoutFigures } from '#contract/runout-figures.ts'

const END = { left: 'Left', right: 'Right' } as const

/** What is not well about the reading, each with what to do; nothing for a clean one. */
export function QualityFlags({ figures, repeats = [] }: { figures: RunoutFigures; repeats?: readonly string[] }) {
  const flags = figures.quality ?? []
  if (flags.length === 0 && repeats.length === 0) return null
  return (
    <ul className="quality-flags plain-list" aria-label="About this reading">
      {flags.map((flag) => (
        <li key={`${flag.code}-${flag.side ?? ''}`}>
          <span>
            {flag.side !== undefined && <b>{END[flag.side]}: </b>}
            {flag.says} {flag.do}
          </span>
        </li>
      ))}
      {repeats.map((says) => (
        <li key={says}>{says}</li>
      ))}
    </ul>
  )
}
