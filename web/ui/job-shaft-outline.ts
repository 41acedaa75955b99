import { type JobKind, PATHS, type Step } from '#core/steps.ts'

/**
 * The crank from the side, nose to thread, laid out for one kind of job: every step of the job is one stretch of it.
 * Drawing units; the picture is stretched to its place, so widths are shares and only heights are true.
 */
export const SHAFT_WIDTH = 800
export const SHAFT_HEIGHT = 72
const AXIS = SHAFT_HEIGHT / 2
/** How far the halves stand apart while they are apart, in segments. */
export const APART_GAP = 0.32

const SEGMENTS = 8
/** How many of the eight segments a step takes. Where the crank is not taken apart, its throw is one piece. */
const SPANS: Readonly<Record<JobKind, Partial<Record<Step, number>>>> = {
  rebuild: {},
  'true-only': { agreed: 3 },
  'weld-only': { agreed: 3 },
  'check-and-report': { measured: 5 },
}

const HALF_HEIGHT = { nose: 11, seat: 17, neck: 12, web: 35, pin: 10, taper: 16, tip: 10, thread: 8 } as const
/** The pin stands off the axis: it is a throw. */
const PIN_AXIS = AXIS - 16

export interface ShaftPiece {
  step: Step
  /** Path data of what is filled. */
  outline: string
  /** Fine lines upon it: the crests of the thread, the edges inside a throw of one piece. */
  detail?: string
  from: number
  to: number
  /** Where its tallest part ends, and how far it reaches there: the collar goes on that. */
  tallTo: number
  top: number
  bottom: number
}

export interface ShaftOutline {
  pieces: ShaftPiece[]
  /** Widths of the columns of words beneath, in segments, with the gap of a parted crank as a column without words. */
  columns: { span: number; step?: Step }[]
  /** The inner faces of the two webs: between them the axis runs through the air. */
  throwFrom: number
  throwTo: number
}

function box(from: number, to: number, middle: number, half: number): string {
  return `M${from} ${middle - half}H${to}V${middle + half}H${from}Z`
}

/** The shapes from one segment to another, by place along the whole crank. */
function shapesOf(
  first: number,
  count: number,
  at: (segment: number) => number,
): { outline: string; detail?: string; half: number; tallTo: number } {
  const parts: string[] = []
  const detail: string[] = []
  let half = 0
  let tallTo = 0
  for (let segment = first; segment < first + count; segment += 1) {
    const [from, to] = [at(segment), at(segment + 1)]
    const width = to - from
    if (segment === 0) {
      parts.push(box(from, to, AXIS, HALF_HEIGHT.nose))
      half = HALF_HEIGHT.nose
    } else if (segment === 1 || segment === 5) {
      parts.push(box(from, to, AXIS, HALF_HEIGHT.seat))
      half = Math.max(half, HALF_HEIGHT.seat)
    } else if (segment === 2 || segment === 4) {
      const face = segment === 2 ? from + width * 0.42 : to - width * 0.42
      parts.push(segment === 2 ? box(from, face, AXIS, HALF_HEIGHT.neck) : box(face, to, AXIS, HALF_HEIGHT.neck))
      parts.push(segment === 2 ? box(face, to, AXIS, HALF_HEIGHT.web) : box(from, face, AXIS, HALF_HEIGHT.web))
      half = HALF_HEIGHT.web
      tallTo = segment === 2 ? to : face
    } else if (segment === 3) {
      parts.push(box(from, to, PIN_AXIS, HALF_HEIGHT.pin))
    } else if (segment === 6) {
      parts.push(
        `M${from} ${AXIS - HALF_HEIGHT.taper}L${to} ${AXIS - HALF_HEIGHT.tip}V${AXIS + HALF_HEIGHT.tip}L${from} ${AXIS + HALF_HEIGHT.taper}Z`,
      )
      half = HALF_HEIGHT.taper
    } else {
      parts.push(box(from, to, AXIS, HALF_HEIGHT.thread))
      for (let crest = 1; crest < 9; crest += 1)
        detail.push(`M${from + (width * crest) / 9} ${AXIS - HALF_HEIGHT.thread}l-3 ${2 * HALF_HEIGHT.thread}`)
      half = HALF_HEIGHT.thread
    }
  }
  return {
    outline: parts.join(''),
    half,
    tallTo: tallTo === 0 ? at(first + count) : tallTo,
    ...(detail.length > 0 ? { detail: detail.join('') } : {}),
  }
}

/** @example shaftOutline('rebuild', true).pieces.length // 8 */
export function shaftOutline(kind: JobKind, parted: boolean): ShaftOutline {
  const segment = SHAFT_WIDTH / (SEGMENTS + (parted ? APART_GAP : 0))
  // The gap lies before the second web: the pin stays in the first.
  const at = (place: number) => place * segment
  const shifted = (place: number) => (place + APART_GAP) * segment
  const pieces: ShaftPiece[] = []
  const columns: ShaftOutline['columns'] = []
  let first = 0
  for (const step of PATHS[kind]) {
    const span = SPANS[kind][step] ?? 1
    if (parted && first === 4) columns.push({ span: APART_GAP })
    columns.push({ span, step })
    const place = parted && first >= 4 ? shifted : at
    const { half, ...drawn } = shapesOf(first, span, place)
    const onlyPin = first === 3 && span === 1
    const middle = onlyPin ? PIN_AXIS : AXIS
    const reach = onlyPin ? HALF_HEIGHT.pin : half
    pieces.push({ step, ...drawn, from: place(first), to: place(first + span), top: middle - reach, bottom: middle + reach })
    first += span
  }
  const webFace = (segment: number) => (parted && segment >= 4 ? shifted : at)(segment)
  return { pieces, columns, throwFrom: at(3), throwTo: webFace(4) }
}

export const SHAFT_AXIS = AXIS
