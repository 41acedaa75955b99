import { hasSeveralThrows } from '#core/crank-build.ts'
import '#web/features/jobs/measured-crank.css'
import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { z } from 'zod'
import type { Bench } from '#contract/bench.ts'
import type { Job } from '#contract/jobs.ts'
import type { CrankGeometry } from '#core/crank-shape.ts'
import { findings } from '#web/features/jobs/findings.ts'
import { drawMeasured, geometryOf } from '#web/features/jobs/measured-drawing.ts'
import { measuredLines } from '#web/features/jobs/measured-lines.ts'
import type { MeasuredLine } from '#web/features/jobs/measured-places.ts'
import { measuredQuery, sheetQuery } from '#web/features/jobs/queries.ts'
import { useSearchState } from '#web/lib/search-state.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { Drawing } from '#web/ui/drawing.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const search = z.object({ as: z.enum(['drawing', 'table']).default('drawing') })

/** The crank with what was measured at each place, and the same as a table; which of the two stands in the address. */
export function MeasuredCrank({ job }: { job: Job }) {
  const [{ as }, show] = useSearchState(search)
  const measured = useQuery(measuredQuery(job.id))
  const sheet = useQuery(sheetQuery(job.crank.engineId))
  const failed = measured.error ?? sheet.error
  if (failed !== null) {
    return (
      <section aria-label="What we measured">
        <h2>What we measured</h2>
        <Failed
          what="What we measured"
          error={failed}
          onAgain={() => {
            void measured.refetch()
            void sheet.refetch()
          }}
        />
      </section>
    )
  }
  if (measured.data === undefined || sheet.data === undefined) return <Loading what="what we measured" />
  const geometry = geometryOf(sheet.data, measured.data)
  const lines = measuredLines(measured.data, sheet.data)
  const isTable = as === 'table' || geometry === undefined
  const said = findings(measured.data, sheet.data)
  return (
    <section aria-label="What we measured" className="measured">
      {isTable ? (
        <>
          <h2>What we measured</h2>
          <MeasuredTable lines={lines} />
        </>
      ) : (
        <MeasuredDrawing geometry={geometry} lines={lines} bench={measured.data} />
      )}
      <p className="soft">
        {said}{' '}
        {hasSeveralThrows(sheet.data.build ?? null) ? null : geometry === undefined ? (
          <>
            <Link to={`/engines/${sheet.data.id}`}>Our sheet for this engine</Link> lacks figures that the drawing needs.
          </>
        ) : (
          <button type="button" className="plain" onClick={() => show({ as: isTable ? 'drawing' : 'table' })}>
            {isTable ? 'As a drawing' : 'As a table'}
          </button>
        )}
      </p>
    </section>
  )
}

function MeasuredDrawing({ geometry, lines, bench }: { geometry: CrankGeometry; lines: readonly MeasuredLine[]; bench: Bench }) {
  const [box, room] = useRoom<HTMLDivElement>({ width: 1180, letter: 15 })
  const drawing = drawMeasured(geometry, bench, lines, room)
  const width = lines.find((one) => one.id === 'width')
  return (
    <>
      <div ref={box} className="measured-drawing">
        {drawing === undefined ? <MeasuredTable lines={lines} /> : <Drawing drawing={drawing} />}
      </div>
      {drawing !== undefined && width?.figure !== undefined && (
        <p className="measured-width">
          width <span className="fig">{width.figure}</span> {width.how}
          {width.past !== undefined && (
            <>
              , <Over>{width.past}</Over>
            </>
          )}
          {width.allowed !== undefined && ` · aim ${width.allowed}`}
        </p>
      )}
    </>
  )
}

function MeasuredTable({ lines }: { lines: readonly MeasuredLine[] }) {
  return (
    <table className="plain-table measured-table">
      <caption className="spoken">What we measured, all in mm</caption>
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col" className="n">
            Measured, mm
          </th>
          <th scope="col">How</th>
          <th scope="col">Allowed, mm</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.id}>
            <th scope="row">{line.what}</th>
            <td className="n fig">{line.figure ?? '–'}</td>
            <td>
              {line.how}
              {line.past !== undefined && (
                <>
                  , <Over>{line.past}</Over>
                </>
              )}
            </td>
            <td>{line.allowed ?? '–'}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
