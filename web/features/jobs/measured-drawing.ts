import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import { hasSeveralThrows } from '#core/crank-build.ts'
import { drawCrank } from '#core/crank-drawing.ts'
import type { CrankGeometry } from '#core/crank-shape.ts'
import type { Drawing, Mark } from '#core/marks.ts'
import { surfaceSaid } from '#core/surface-words.ts'
import { dialWords, figuresOf, type MeasuredLine, newestOf } from '#web/features/jobs/measured-places.ts'

/** What the drawing needs of the sheet and of the last set-up; undefined where the sheet lacks it. */
export function geometryOf(sheet: Engine, bench: Bench): CrankGeometry | undefined {
  const figures = figuresOf(sheet)
  const setup = newestOf(bench, 'runout')?.setup
  const { strokeMm, widthMinMm, widthMaxMm, engagementMm, pinDiameterMm, pinLengthMm, rimRadiusMm } = figures
  const supportLeft = setup?.supportLeftMm ?? figures.supportLeftMm
  const supportRight = setup?.supportRightMm ?? figures.supportRightMm
  const dialLeft = setup?.dialLeftMm ?? figures.dialLeftMm
  const dialRight = setup?.dialRightMm ?? figures.dialRightMm
  // Where the throws of a crank with several lie is on no sheet, and lengths along the crank are never made up.
  if (hasSeveralThrows(sheet.build ?? null)) return undefined
  if (strokeMm === undefined || widthMinMm === undefined || widthMaxMm === undefined) return undefined
  if (engagementMm === undefined || pinDiameterMm === undefined) return undefined
  if (supportLeft === undefined || supportRight === undefined || dialLeft === undefined || dialRight === undefined) return undefined
  return {
    strokeMm,
    throws: [
      {
        atMm: 0,
        widthMm: (widthMinMm + widthMaxMm) / 2,
        engagementMm,
        pinDiameterMm,
        ...(pinLengthMm === undefined ? {} : { pinLengthMm }),
      },
    ],
    ...(rimRadiusMm === undefined ? {} : { rimRadiusMm }),
    left: { supportMm: supportLeft, dialMm: dialLeft, ...surfaceSaid(setup?.surfaceLeft ?? sheet.surfaceLeft) },
    right: { supportMm: supportRight, dialMm: dialRight, ...surfaceSaid(setup?.surfaceRight ?? sheet.surfaceRight) },
  }
}

const HIGHEST = 440
const NARROW = 600
const NARROW_LETTERS_HIGH = 34

/** The crank laid out for the room it has, with what was measured at each place; undefined where the figures make no crank. */
export function drawMeasured(
  geometry: CrankGeometry,
  bench: Bench,
  lines: readonly MeasuredLine[],
  room: { width: number; letter: number },
): Drawing | undefined {
  const at = (id: string) => lines.find((one) => one.id === id)
  const words = (id: string) => placeWords(at(id))
  try {
    const drawing = drawCrank(geometry, {
      held: newestOf(bench, 'runout')?.setup?.held ?? 'v-blocks-bare',
      width: Math.max(room.width, room.letter * 20),
      maxHeight: room.width < NARROW ? room.letter * NARROW_LETTERS_HIGH : HIGHEST,
      text: room.letter,
      over: {
        left: endWords(at('runout-left'), dialWords(bench, 'left')),
        pin: words('clearance'),
        right: endWords(at('runout-right'), dialWords(bench, 'right')),
      },
      under: { left: [...words('fit-left'), ...words('tonnes-left')], right: [...words('fit-right'), ...words('tonnes-right')] },
    })
    return { ...drawing, marks: drawing.marks.map(inked) }
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

const SHORT: Readonly<Record<string, string>> = { clearance: 'side clearance ', 'fit-left': 'fit ', 'fit-right': 'fit ' }

/** `side clearance 0.61 as received, ▲ over` and beneath it `allowed 0.25 to 0.50`. */
function placeWords(line: MeasuredLine | undefined): string[] {
  if (line?.figure === undefined) return []
  const said = `${SHORT[line.id] ?? ''}${line.figure} ${line.how}${line.past === undefined ? '' : `, ▲ ${line.past}`}`
  if (line.allowed === undefined) return [said]
  return [said, line.allowed.endsWith('foretold') ? line.allowed : `allowed ${line.allowed}`]
}

/** What is past a limit stands in its own ink, always with the word and the ▲; what is allowed stands back. */
function inked(mark: Mark): Mark {
  if (mark.kind !== 'text') return mark
  if (mark.text.includes('▲')) return { ...mark, ink: 'over', strong: true }
  return mark.text.startsWith('allowed') || mark.text.endsWith('foretold') ? { ...mark, ink: 'soft' } : mark
}
