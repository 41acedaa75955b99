import type { Engine, EngineFigureName } from '#contract/engines.ts'
import type { Job } from '#contract/jobs.ts'
import { pressedWords } from '#web/features/jobs/job-head.tsx'
import { WHY_WORDS } from '#web/features/jobs/words.ts'

/** What the bench asks of the sheet before anything is measured; of a limit of runout also where its dial stands. */
const ASKED: readonly (readonly [name: string, least: EngineFigureName, most?: EngineFigureName | undefined, at?: EngineFigureName])[] = [
  ['Width over webs', 'widthMinMm', 'widthMaxMm'],
  ['Side clearance', 'clearanceMinMm', 'clearanceMaxMm'],
  ['Fit of the pin', 'fitMinMm', 'fitMaxMm'],
  ['Our floor for the fit', 'shopFloorMm', undefined],
  ['We allow, left', 'limitHouseLeftMm', undefined, 'dialLeftMm'],
  ['We allow, right', 'limitHouseRightMm', undefined, 'dialRightMm'],
]

/** What we know of this engine and this crank: our notes, the figures of the sheet, how often its webs were pressed. */
export function BenchAbout({ job, sheet, built }: { job: Job; sheet: Engine; built: string | undefined }) {
  const value = (name: EngineFigureName) => sheet.figures.find((one) => one.name === name)?.value
  const rows = ASKED.flatMap(([name, least, most, at]) => {
    const from = value(least)
    const to = most === undefined ? undefined : value(most)
    const dialMm = at === undefined ? undefined : value(at)
    if (from === undefined) return []
    const place = dialMm === undefined ? '' : `, dial ${Math.abs(dialMm)} ${dialMm < 0 ? 'in' : 'out'}`
    return [{ name, says: to === undefined ? `${from}` : `${from} to ${to}`, place }]
  })
  return (
    <section aria-label="About this engine">
      <h2>About this engine</h2>
      {sheet.note === undefined || sheet.note === '' ? (
        <p className="soft">No note of ours yet. What surprised you goes on the engine’s sheet.</p>
      ) : (
        <p className="bench-note">{sheet.note}</p>
      )}
      <dl className="bench-facts">
        <div>
          <dt>Came in for</dt>
          <dd>{WHY_WORDS[job.whyNow]}</dd>
        </div>
        <div>
          <dt>Webs</dt>
          <dd>
            {pressedWords(job.crank)}
            {job.crank.welded && ', pin welded'}
            {job.crank.marks !== undefined && `, marked ${job.crank.marks}`}
          </dd>
        </div>
        {built !== undefined && (
          <div>
            <dt>Put together</dt>
            <dd>{built}</dd>
          </div>
        )}
        {rows.map((row) => (
          <div key={row.name}>
            <dt>{row.name}</dt>
            <dd>
              <span className="fig">{row.says}</span> mm{row.place}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
