/** What lies under a dial. A thread, a spline and a keyway do not run true with the seat and mislead a dial. */
export const SURFACES = ['plain', 'taper', 'thread', 'spline'] as const
export type Surface = (typeof SURFACES)[number]

/** How the crank was held while it was read. */
export const WAYS_OF_HOLDING = [
  'v-blocks-bare',
  'v-blocks-bearings',
  'rollers-bare',
  'rollers-bearings',
  'centres',
  'lathe-left',
  'lathe-right',
  'cases',
] as const
export type WayOfHolding = (typeof WAYS_OF_HOLDING)[number]

/** One throw: two webs and the pin between them. All mm. */
export interface CrankThrow {
  /** Pin mid-plane from the crank's centre, + to the right; 0 for a single. */
  atMm: number
  /** Over the outer web faces. */
  widthMm: number
  /** Length of the pin's bore in each web, taken as the web's thickness. */
  engagementMm: number
  pinDiameterMm: number
  pinLengthMm?: number
  /** Where the pin stands seen from the right-hand end; 0 = at 12 o'clock, 180 for the other throw of a twin. */
  turnedDeg?: number
}

/** One end of the crank, all mm, distances counted outward. */
export interface CrankEnd {
  /** Crank's centre to where this shaft was held, over 0. */
  supportMm: number
  /** From that support to the dial: + outboard, − inboard, never 0. */
  dialMm: number
  /** What the dial stood on. */
  surface: Surface
  /** For a taper, n of 1:n on diameter. */
  taper?: number
  /** Diameter under the dial. */
  diameterMm?: number
  seatDiameterMm?: number
  /** Support to the tip of the shaft. */
  tipMm?: number
  /** Stretches further out, each from its distance from the support to the next or to the tip. */
  further?: { fromMm: number; surface: Surface; diameterMm?: number }[]
  /** A keyway or slot, from and to counted from the support. */
  keyway?: { fromMm: number; toMm: number }
}

/** What the drawing needs of an engine's sheet and of the set-up. */
export interface CrankGeometry {
  strokeMm: number
  /** One for a single, from left to right for more. */
  throws: CrankThrow[]
  /** Web rim; where the sheet is silent, half the stroke and 20 mm. */
  rimRadiusMm?: number
  left: CrankEnd
  right: CrankEnd
}

/** A stretch of shaft along the crank, + to the right of its centre. */
export interface ShaftPart {
  kind: 'neck' | 'seat' | Surface
  fromMm: number
  toMm: number
  fromRadiusMm: number
  toRadiusMm: number
}

export interface CrankShape {
  leftTipMm: number
  rightTipMm: number
  rimRadiusMm: number
  seatRadiusMm: { left: number; right: number }
  shaft: ShaftPart[]
  webs: { fromMm: number; toMm: number }[]
  pins: { fromMm: number; toMm: number; upMm: number; radiusMm: number; hiddenFromMm: number; hiddenToMm: number }[]
}

/**
 * The outline of a built-up crank, in mm along its centre line, from the figures of an engine's sheet.
 *
 * @example shapeOfCrank({ strokeMm: 60, throws: [{ atMm: 0, widthMm: 64, engagementMm: 22, pinDiameterMm: 35 }], ...data.setup }, 'v-blocks-bare').webs // [{ fromMm: -32, toMm: -10 }, { fromMm: 10, toMm: 32 }]
 *
 * Diameters and the shaft's length beyond the dial are taken from the sheet where it has them and drawn by eye where it
 * has not (seat 1.05 × pin Ø, at most 0.45 × stroke; common practice, no source): they carry no figure on the paper. Lengths along the crank are
 * never made up. Throws RangeError for figures outside stroke 10–300, supports and |dial| 1–1000, pins 1–300, webs that
 * leave no gap, or throws that overlap.
 */
export function shapeOfCrank(geometry: CrankGeometry, held: WayOfHolding): CrankShape {
  checkGeometry(geometry)
  const first = geometry.throws[0]!
  const last = geometry.throws.at(-1)!
  const rimRadiusMm = geometry.rimRadiusMm ?? geometry.strokeMm / 2 + 20
  const byEye = Math.min(geometry.strokeMm * 0.45, ...geometry.throws.map((one) => one.pinDiameterMm * 1.05))
  const seatRadiusMm = {
    left: (geometry.left.seatDiameterMm ?? byEye) / 2,
    right: (geometry.right.seatDiameterMm ?? byEye) / 2,
  }
  const leftParts = endParts(geometry.left, first.widthMm / 2 - first.atMm, seatRadiusMm.left, held)
  const rightParts = endParts(geometry.right, last.widthMm / 2 + last.atMm, seatRadiusMm.right, held)
  return {
    leftTipMm: -leftParts.at(-1)!.toMm,
    rightTipMm: rightParts.at(-1)!.toMm,
    rimRadiusMm,
    seatRadiusMm,
    shaft: [
      ...leftParts.map(mirrored).reverse(),
      ...between(geometry.throws, Math.min(seatRadiusMm.left, seatRadiusMm.right)),
      ...rightParts,
    ],
    webs: geometry.throws.flatMap(websOf),
    pins: geometry.throws.map((one) => pinOf(one, geometry.strokeMm)),
  }
}

/** The greatest radius of shaft or web at a place along the crank, mm; 0 beyond its tips. */
export function radiusAt(shape: CrankShape, atMm: number): number {
  const onWeb = shape.webs.some((web) => atMm >= web.fromMm && atMm <= web.toMm) ? shape.rimRadiusMm : 0
  const onShaft = shape.shaft.filter((part) => atMm >= part.fromMm && atMm <= part.toMm).map((part) => radiusOn(part, atMm))
  return Math.max(onWeb, 0, ...onShaft)
}

function radiusOn(part: ShaftPart, atMm: number): number {
  const along = part.toMm === part.fromMm ? 0 : (atMm - part.fromMm) / (part.toMm - part.fromMm)
  return part.fromRadiusMm + along * (part.toRadiusMm - part.fromRadiusMm)
}

/** The parts of one end outward from the outer web face; distances from the crank's centre. */
function endParts(end: CrankEnd, webFace: number, seatRadius: number, held: WayOfHolding): ShaftPart[] {
  const dialAt = end.supportMm + end.dialMm
  const seatAt = held === 'centres' && end.dialMm < 0 ? dialAt : end.supportMm
  const half = Math.min(8, Math.max(3, seatAt - webFace))
  const seatFrom = Math.max(webFace, seatAt - half)
  const seatTo = Math.max(seatFrom, seatAt + half)
  const parts: ShaftPart[] = []
  if (seatFrom > webFace) parts.push(straight('neck', webFace, seatFrom, seatRadius * 0.9))
  if (seatTo > seatFrom) parts.push(straight('seat', seatFrom, seatTo, seatRadius))

  const further = [...(end.further ?? [])].sort((a, b) => a.fromMm - b.fromMm)
  const onTips = held === 'centres' && end.dialMm < 0
  const wanted = onTips ? end.supportMm : Math.max(dialAt + 8, seatTo + 10, end.supportMm + (further.at(-1)?.fromMm ?? 0) + 10)
  const tip = Math.max(seatTo + 1, end.tipMm === undefined ? wanted : end.supportMm + end.tipMm)
  const starts = further.map((one) => Math.min(tip, Math.max(seatTo, end.supportMm + one.fromMm)))

  const dialRadius = end.diameterMm === undefined ? undefined : end.diameterMm / 2
  const firstTo = starts[0] ?? tip
  // With an inboard dial the surface named is the land it stood on, so the shaft outside the seat is drawn plain.
  const base =
    end.dialMm < 0 ? straight('plain', seatTo, firstTo, seatRadius * 0.8) : stretch(end, seatTo, firstTo, dialAt, seatRadius, dialRadius)
  if (firstTo > seatTo) parts.push(base)
  let radius = base.toRadiusMm
  for (const [index, one] of further.entries()) {
    const from = starts[index]!
    const to = starts[index + 1] ?? tip
    radius = one.diameterMm === undefined ? Math.min(radius, seatRadius * 0.66) : one.diameterMm / 2
    if (to > from) parts.push(straight(one.surface, from, to, radius))
  }
  return parts
}

function stretch(end: CrankEnd, from: number, to: number, dialAt: number, seatRadius: number, dialRadius: number | undefined): ShaftPart {
  if (end.surface !== 'taper') return straight(end.surface, from, to, dialRadius ?? seatRadius * (end.surface === 'plain' ? 0.8 : 0.66))
  const slope = 1 / (2 * (end.taper ?? 5))
  const atStart = dialRadius === undefined ? seatRadius * 0.88 : dialRadius + (dialAt - from) * slope
  const least = seatRadius * 0.25
  return {
    kind: 'taper',
    fromMm: from,
    toMm: to,
    fromRadiusMm: Math.max(least, atStart),
    toRadiusMm: Math.max(least, atStart - (to - from) * slope),
  }
}

function straight(kind: ShaftPart['kind'], fromMm: number, toMm: number, radius: number): ShaftPart {
  return { kind, fromMm, toMm, fromRadiusMm: radius, toRadiusMm: radius }
}

function mirrored(part: ShaftPart): ShaftPart {
  return { ...part, fromMm: -part.toMm, toMm: -part.fromMm, fromRadiusMm: part.toRadiusMm, toRadiusMm: part.fromRadiusMm }
}

function websOf(one: CrankThrow): { fromMm: number; toMm: number }[] {
  const left = one.atMm - one.widthMm / 2
  const right = one.atMm + one.widthMm / 2
  return [
    { fromMm: left, toMm: left + one.engagementMm },
    { fromMm: right - one.engagementMm, toMm: right },
  ]
}

function pinOf(one: CrankThrow, strokeMm: number): CrankShape['pins'][number] {
  const gap = one.widthMm / 2 - one.engagementMm
  const length = Math.min(one.pinLengthMm ?? one.widthMm, one.widthMm) / 2
  return {
    fromMm: one.atMm - gap,
    toMm: one.atMm + gap,
    upMm: (strokeMm / 2) * Math.cos(((one.turnedDeg ?? 0) * Math.PI) / 180),
    radiusMm: one.pinDiameterMm / 2,
    hiddenFromMm: one.atMm - length,
    hiddenToMm: one.atMm + length,
  }
}

/** The shaft between two throws of a crank with several. */
function between(throws: CrankThrow[], radius: number): ShaftPart[] {
  return throws.slice(1).map((one, index) => {
    const before = throws[index]!
    return straight('seat', before.atMm + before.widthMm / 2, one.atMm - one.widthMm / 2, radius)
  })
}

function checkGeometry(geometry: CrankGeometry): void {
  need(geometry.strokeMm >= 10 && geometry.strokeMm <= 300, 'a stroke of 10 to 300 mm')
  need(geometry.throws.length > 0, 'at least one throw')
  need(geometry.rimRadiusMm === undefined || (geometry.rimRadiusMm >= 5 && geometry.rimRadiusMm <= 500), 'a rim radius of 5 to 500 mm')
  for (const [index, one] of geometry.throws.entries()) {
    need(one.pinDiameterMm >= 1 && one.pinDiameterMm <= 300, 'a pin of 1 to 300 mm')
    need(one.engagementMm > 0 && one.engagementMm * 2 < one.widthMm && one.widthMm <= 1000, 'webs that leave a gap between them')
    const before = geometry.throws[index - 1]
    need(Number.isFinite(one.atMm), 'throws with a place')
    need(
      before === undefined || before.atMm + before.widthMm / 2 <= one.atMm - one.widthMm / 2,
      'throws from left to right that do not overlap',
    )
  }
  for (const end of [geometry.left, geometry.right]) {
    need(end.supportMm >= 1 && end.supportMm <= 1000, 'supports 1 to 1000 mm from the centre')
    need(Math.abs(end.dialMm) >= 1 && Math.abs(end.dialMm) <= 1000, 'dials 1 to 1000 mm from their support, in or out')
  }
}

function need(holds: boolean, what: string): void {
  if (!holds) throw new RangeError(`shapeOfCrank needs ${what}`)
}
