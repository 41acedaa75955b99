import '#web/features/jobs/measured-crank.css'
import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { z } from 'zod'
import type { Engine } from '#contract/engines.ts'
import type { Job } from '#contract/jobs.ts'
import type { Bench } from '#contract/measurements.ts'
import { drawCrank } from '#core/crank-drawing.ts'
import type { CrankGeometry } from '#core/crank-shape.ts'
import type { Drawing as Sheet } from '#core/marks.ts'
import { surfaceSaid } from '#core/surface-words.ts'
import { findings } from '#web/features/jobs/findings.ts'
import { dialWords, figuresOf, type MeasuredLine, measuredLines, newestOf } from '#web/features/jobs/measured-places.ts'
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
        {geometry === undefined ? (
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

/** What the drawing needs of the sheet; undefined where the sheet lacks it, or its figures make no crank. */
export function geometryOf(sheet: Engine, bench: Bench): CrankGeometry | undefined {
  const figures = figuresOf(sheet)
  const setup = newestOf(bench, 'runout')?.setup
  const { strokeMm, widthMinMm, widthMaxMm, engagementMm, pinDiameterMm } = figures
  const supportLeft = setup?.supportLeftMm ?? figures.supportLeftMm
  const supportRight = setup?.supportRightMm ?? figures.supportRightMm
  const dialLeft = setup?.dialLeftMm ?? figures.dialLeftMm
  const dialRight = setup?.dialRightMm ?? figures.dialRightMm
  const needed = [strokeMm, widthMinMm, widthMaxMm, engagementMm, pinDiameterMm, supportLeft, supportRight, dialLeft, dialRight]
  if (needed.some((one) => one === undefined)) return undefined
  return {
    strokeMm: strokeMm!,
    throws: [
      {
        atMm: 0,
        widthMm: (widthMinMm! + widthMaxMm!) / 2,
        engagementMm: engagementMm!,
        pinDiameterMm: pinDiameterMm!,
        ...(figures.pinLengthMm === undefined ? {} : { pinLengthMm: figures.pinLengthMm }),
      },
    ],
    ...(figures.rimRadiusMm === undefined ? {} : { rimRadiusMm: figures.rimRadiusMm }),
    left: { supportMm: supportLeft!, dialMm: dialLeft!, ...surfaceSaid(setup?.surfaceLeft ?? sheet.surfaceLeft) },
    right: { supportMm: supportRight!, dialMm: dialRight!, ...surfaceSaid(setup?.surfaceRight ?? sheet.surfaceRight) },
  }
}

function drawn(geometry: CrankGeometry, bench: Bench, lines: readonly MeasuredLine[], room: { width: number; letter: number }): Sheet | undefined {
  const at = (id: string) => lines.find((one) => one.id === id)
  const words = (id: string) => {
    const found = at(id)
    return found?.figure === undefined ? [] : [inWords(found)]
  }
  try {
    return drawCrank(geometry, {
      held: newestOf(bench, 'runout')?.setup?.held ?? 'v-blocks-bare',
      width: Math.max(room.width, room.letter * 20),
      maxHeight: room.width < 600 ? room.letter * 34 : 440,
      text: room.letter,
      over: { left: endWords(at('runout-left'), dialWords(bench, 'left')), pin: words('clearance'), right: endWords(at('runout-right'), dialWords(bench, 'right')) },
      under: { left: [...words('fit-left'), ...words('tonnes-left')], right: [...words('fit-right'), ...words('tonnes-right')] },
    })
  } catch (error) {
    // A sheet half filled in may hold figures that make no crank; the table still says what was measured.
    if (error instanceof RangeError) return undefined
    throw error
  }
}

function endWords(line: MeasuredLine | undefined, dial: string | undefined): string[] {
  if (line?.figure === undefined) return [`full swing ${line?.how ?? 'not measured yet'}`]
  return [
    `full swing ${line.figure}${line.past === undefined ? '' : `, ▲ ${line.past}`}`,
    [line.allowed === undefined ? undefined : `allowed ${line.allowed}`, dial].filter((one) => one !== undefined).join(' · '),
  ]
}

const SHORT: Readonly<Record<string, string>> = {
  clearance: 'side clearance',
  'fit-left': 'fit',
  'fit-right': 'fit',
  'tonnes-left': '',
  'tonnes-right': '',
}

/** `side clearance 0.61 as received, ▲ over, allowed 0.25 to 0.50` */
function inWords(line: MeasuredLine): string {
  const name = SHORT[line.id] ?? line.what
  const allowed = line.allowed === undefined ? '' : line.id.startsWith('tonnes') ? `, ${line.allowed}` : `, allowed ${line.allowed}`
  return `${name} ${line.figure} ${line.how}${line.past === undefined ? '' : `, ▲ ${line.past}`}${allowed}`.trim()
}

/** What is past a limit stands in its own ink, always with the word and the ▲. */
function inked(drawing: Sheet): Sheet {
  return { ...drawing, marks: drawing.marks.map((mark) => (mark.kind === 'text' && mark.text.includes('▲') ? { ...mark, ink: 'over', strong: true } : mark)) }
}

function MeasuredDrawing({ geometry, lines, bench }: { geometry: CrankGeometry; lines: readonly MeasuredLine[]; bench: Bench }) {
  const [box, room] = useRoom<HTMLDivElement>({ width: 1180, letter: 15 })
  const drawing = drawn(geometry, bench, lines, room)
  const width = lines.find((one) => one.id === 'width')
  return (
    <>
      <div ref={box} className="measured-drawing">
        {drawing === undefined ? <MeasuredTable lines={lines} /> : <Drawing drawing={inked(drawing)} />}
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
