/**
 * Invented engines of the demo shop and the rod kits that go with them. Makers, codes and figures are made up; the geometry
 * is plausible and no engine of a real maker. Every figure carries the source mark `invented`.
 */
import type { EngineFigureName, EngineNew } from '#contract/engines.ts'

interface Model {
  maker: string
  code: string
  cycle: '2T' | '4T'
  stroke: number
  width: number
  pin: readonly [diameter: number, length: number]
  span: number
  left: readonly [dial: number, surface: string]
  right: readonly [dial: number, surface: string]
  clearance: readonly [number, number]
  limit: readonly [maker: number, house: number]
  fit: readonly [number, number]
  bore: number
  note: string
  kart?: true
  /** Crank centre to the left main; half the span unless the webs sit off the middle. */
  supportLeft?: number
  shopFloor?: number
  build?: NonNullable<EngineNew['build']>
}

const AT_180 = { rodsOnAPin: 1, throws: 2, phaseDeg: [0, 180], phaseLimitDeg: 0.5 }
const PRESSED_TWIN: Model['build'] = {
  ...AT_180,
  centre: 'pressed',
  centreLimitMm: 0.04,
  trapped: [
    { what: 'centre bearing', between: 'the inner webs' },
    { what: 'labyrinth', between: 'the inner webs' },
  ],
}
const ONE_PIECE_TWIN: Model['build'] = {
  ...AT_180,
  centre: 'integral',
  centreLimitMm: 0.08,
  trapped: [
    { what: 'left centre bearing', between: 'the inner webs' },
    { what: 'right centre bearing', between: 'the inner webs' },
  ],
}
/** Two rods on one pin are one throw: no angle, and nothing between the webs. */
const TWO_RODS: Model['build'] = { throws: 1, rodsOnAPin: 2, phaseDeg: [0], trapped: [] }

// biome-ignore format: one engine a line reads as the table it is
const MODELS: readonly Model[] = [
  { maker: 'Ruskhammar', code: 'R49-P', cycle: '2T', stroke: 39.0, width: 42.0, pin: [16, 41.6], span: 55, left: [27, 'taper 1:5, Woodruff keyway'], right: [31, 'plain 12 mm'], clearance: [0.2, 0.5], limit: [0.03, 0.02], fit: [0.045, 0.055], bore: 14.2, note: 'Moped; full-circle webs.' },
  { maker: 'Mirabant', code: 'M64-C', cycle: '2T', stroke: 41.4, width: 45.0, pin: [18, 44.6], span: 58, left: [30, 'taper 1:5, keyway'], right: [33, 'plain, then M10 thread at 40'], clearance: [0.25, 0.55], limit: [0.04, 0.02], fit: [0.05, 0.062], bore: 15.2, note: 'Child MX; hours read high.' },
  { maker: 'Tolvane', code: 'T84-W', cycle: '2T', stroke: 47.6, width: 50.0, pin: [20, 49.5], span: 65, left: [34, 'taper 1:5, keyway'], right: [38, 'spline 14 mm, misleads'], clearance: [0.3, 0.6], limit: [0.04, 0.02], fit: [0.058, 0.07], bore: 17.2, note: 'MX, 85 class.' },
  { maker: 'Ferrowyn', code: 'F99-K', cycle: '2T', kart: true, stroke: 50.2, width: 51.0, pin: [18, 50.6], span: 66, left: [32, 'taper 1:10, keyway'], right: [42, 'plain 17 mm'], clearance: [0.25, 0.55], limit: [0.02, 0.012], fit: [0.052, 0.062], bore: 17.8, note: 'Kart, direct drive.' },
  { maker: 'Ferrowyn', code: 'F124-K', cycle: '2T', kart: true, stroke: 54.2, width: 53.0, pin: [20, 52.5], span: 68, left: [35, 'taper 1:10, keyway'], right: [45, 'plain 18 mm, keyway at 30 to 48'], clearance: [0.3, 0.7], limit: [0.02, 0.012], fit: [0.058, 0.07], bore: 18.4, note: 'Kart, gearless; rebuilt often.' },
  { maker: 'Zandrello', code: 'Z122-S', cycle: '2T', stroke: 51.4, width: 47.5, pin: [20, 47.0], span: 70, supportLeft: 33, left: [44, 'taper 1:8, keyway'], right: [26, 'spline, misleads'], clearance: [0.2, 0.5], limit: [0.03, 0.02], fit: [0.055, 0.068], bore: 16.1, note: 'Scooter; rotary-pad web; span uneven.' },
  { maker: 'Ruskhammar', code: 'R124-X', cycle: '2T', stroke: 54.3, width: 55.95, pin: [22, 55.4], span: 75, left: [43, 'taper 1:5, keyway'], right: [47, 'plain 17 mm, then spline at 55'], clearance: [0.4, 0.7], limit: [0.05, 0.02], fit: [0.066, 0.08], bore: 19.3, note: 'MX 125; stuffers in the webs.' },
  { maker: 'Halvbro', code: 'H143-E', cycle: '2T', stroke: 58.1, width: 56.1, pin: [22, 55.5], span: 75, left: [44, 'taper 1:5, keyway'], right: [50, 'thread M14x1.0, misleads; plain at 36'], clearance: [0.4, 0.75], limit: [0.05, 0.02], fit: [0.066, 0.08], bore: 19.2, note: 'Enduro 150; left-hand thread.' },
  { maker: 'Halvbro', code: 'H197-E', cycle: '2T', stroke: 60.4, width: 58.0, pin: [22, 57.4], span: 77, left: [44, 'taper 1:5, keyway'], right: [50, 'plain 18 mm'], clearance: [0.4, 0.75], limit: [0.05, 0.02], fit: [0.068, 0.082], bore: 20.0, note: 'Enduro 200.' },
  { maker: 'Dunmarrow', code: 'D196-R', cycle: '2T', stroke: 71.8, width: 66.4, pin: [20, 65.8], span: 88, left: [36, 'taper 1:8, keyway'], right: [52, 'plain 16 mm, thread at 60'], clearance: [0.25, 0.5], limit: [0.05, 0.025], fit: [0.055, 0.07], bore: 24.6, note: '1950s road; webs knocked about by earlier rebuilds.' },
  { maker: 'Oskarra', code: 'O244-T', cycle: '2T', stroke: 63.8, width: 62.0, pin: [22, 61.4], span: 84, left: [40, 'taper 1:8, keyway'], right: [46, 'taper 1:8; both ends are tapered'], clearance: [0.3, 0.65], limit: [0.03, 0.025], fit: [0.064, 0.08], bore: 22.0, note: '1970s trail; no spare webs.' },
  { maker: 'Yarrowkeld', code: 'Y272-T', cycle: '2T', stroke: 72.6, width: 61.5, pin: [24, 60.9], span: 83, left: [46, 'taper 1:5, keyway'], right: [44, 'plain 20 mm'], clearance: [0.4, 0.75], limit: [0.05, 0.02], fit: [0.075, 0.09], bore: 21.4, note: 'Trials; heavy flywheel ring outside.' },
  { maker: 'Lissgarth', code: 'L249-X', cycle: '2T', stroke: 66.2, width: 59.9, pin: [24, 59.3], span: 81, left: [46, 'taper 1:5, keyway'], right: [52, 'plain 20 mm, keyway at 30 to 44'], clearance: [0.6, 0.9], limit: [0.03, 0.02], fit: [0.076, 0.092], bore: 20.4, note: 'MX 250; wide side clearance.' },
  { maker: 'Ruskhammar', code: 'R249-X', cycle: '2T', stroke: 68.2, width: 60.0, pin: [25, 59.4], span: 81, left: [47, 'taper 1:5, keyway'], right: [53, 'thread M16x1.0, misleads; plain at 40'], clearance: [0.5, 0.8], limit: [0.05, 0.02], fit: [0.078, 0.095], bore: 20.5, note: 'MX 250; stuffers.' },
  { maker: 'Brakkendal', code: 'B293-E', cycle: '2T', stroke: 72.4, width: 62.0, pin: [27, 61.4], span: 84, left: [48, 'taper 1:5, keyway'], right: [54, 'plain 20 mm'], clearance: [0.6, 0.9], limit: [0.03, 0.02], fit: [0.084, 0.102], bore: 21.2, note: 'Enduro 300.' },
  { maker: 'Oskarra', code: 'O371-X', cycle: '2T', stroke: 76.6, width: 67.0, pin: [26, 66.4], span: 90, left: [46, 'taper 1:5, keyway'], right: [55, 'plain 22 mm, keyway'], clearance: [0.4, 0.75], limit: [0.05, 0.025], fit: [0.078, 0.096], bore: 23.5, note: '1970s open class; loose-bore history.' },
  { maker: 'Brakkendal', code: 'B486-X', cycle: '2T', stroke: 79.8, width: 69.0, pin: [28, 68.4], span: 93, left: [52, 'taper 1:5, keyway'], right: [58, 'plain 22 mm'], clearance: [0.6, 0.95], limit: [0.05, 0.025], fit: [0.086, 0.106], bore: 24.0, note: 'Open class.' },
  { maker: 'Mirabant', code: 'M108-4P', cycle: '4T', stroke: 50.8, width: 49.0, pin: [25, 48.4], span: 66, left: [35, 'taper 1:5, keyway'], right: [33, 'plain 17 mm, oil hole in the end'], clearance: [0.15, 0.4], limit: [0.08, 0.025], fit: [0.07, 0.085], bore: 16.7, note: 'Pit bike; end-fed oil.' },
  { maker: 'Tolvane', code: 'T149-4C', cycle: '4T', stroke: 57.6, width: 53.0, pin: [28, 52.4], span: 74, left: [41, 'taper 1:5, keyway'], right: [39, 'plain 18 mm, keyway'], clearance: [0.1, 0.35], limit: [0.1, 0.03], fit: [0.078, 0.094], bore: 17.7, note: 'Commuter; cam-drive gear pressed on.' },
  { maker: 'Halvbro', code: 'H249-4X', cycle: '4T', stroke: 53.4, width: 60.0, pin: [31, 59.4], span: 82, left: [42, 'taper 1:5, keyway'], right: [46, 'plain 18 mm, oil seal nose'], clearance: [0.2, 0.45], limit: [0.05, 0.02], fit: [0.09, 0.108], bore: 20.5, note: 'MX 250 four-stroke; end-fed.' },
  { maker: 'Lissgarth', code: 'L349-4E', cycle: '4T', stroke: 57.2, width: 62.0, pin: [33, 61.4], span: 85, left: [43, 'taper 1:5, keyway'], right: [48, 'plain 20 mm, oil nose'], clearance: [0.25, 0.5], limit: [0.03, 0.02], fit: [0.098, 0.116], bore: 21.2, note: 'Enduro 350.' },
  { maker: 'Ruskhammar', code: 'R449-4X', cycle: '4T', stroke: 62.4, width: 64.0, pin: [35, 63.4], span: 88, left: [45, 'taper 1:5, keyway'], right: [50, 'plain 20 mm, oil nose, thread beyond 60'], clearance: [0.25, 0.5], limit: [0.03, 0.02], fit: [0.105, 0.125], bore: 21.8, shopFloor: 0.1, note: 'MX 450; the model of the loose-pin comebacks.' },
  { maker: 'Brakkendal', code: 'B498-4E', cycle: '4T', stroke: 72.0, width: 68.0, pin: [35, 67.4], span: 93, left: [46, 'taper 1:5, keyway'], right: [52, 'plain 22 mm, keyway'], clearance: [0.4, 0.8], limit: [0.08, 0.025], fit: [0.105, 0.128], bore: 23.3, note: 'Enduro 500.' },
  { maker: 'Dunmarrow', code: 'D346-4R', cycle: '4T', stroke: 81.0, width: 74.0, pin: [30, 73.2], span: 101, left: [38, 'taper 1:8, keyway'], right: [55, 'plain 20 mm, thread at 64'], clearance: [0.25, 0.5], limit: [0.05, 0.025], fit: [0.085, 0.105], bore: 26.0, note: '1960s road single, pressed pin.' },
  { maker: 'Dunmarrow', code: 'D497-4R', cycle: '4T', stroke: 86.4, width: 80.0, pin: [32, 79.2], span: 108, left: [40, 'taper 1:8, keyway'], right: [60, 'plain 22 mm, splines at 68'], clearance: [0.25, 0.55], limit: [0.05, 0.025], fit: [0.092, 0.112], bore: 28.5, note: '1960s road single.' },
  { maker: 'Oskarra', code: 'O651-4R', cycle: '4T', stroke: 82.2, width: 74.0, pin: [36, 73.3], span: 101, left: [48, 'taper 1:5, keyway'], right: [56, 'plain 24 mm, oil nose'], clearance: [0.35, 0.8], limit: [0.08, 0.025], fit: [0.11, 0.132], bore: 25.7, note: 'Big single; twists after lock-up.' },
  { maker: 'Zandrello', code: 'Z347-2W', cycle: '2T', stroke: 54.6, width: 46.0, pin: [22, 45.4], span: 164, left: [38, 'taper 1:5, keyway'], right: [42, 'plain 20 mm, keyway'], clearance: [0.3, 0.65], limit: [0.03, 0.025], fit: [0.066, 0.08], bore: 15.6, build: PRESSED_TWIN, note: 'Road twin, six pieces; the middle is pressed, 24 mm. Read on the outer mains.' },
  { maker: 'Pellarc', code: 'P594-2S', cycle: '2T', stroke: 68.0, width: 54.0, pin: [25, 53.4], span: 60, left: [88.7, 'plain beside the seal'], right: [106, 'taper 1:10, the clutch’s'], clearance: [0.4, 0.75], limit: [0.06, 0.025], fit: [0.078, 0.095], bore: 18.6, build: ONE_PIECE_TWIN, note: 'Snow twin; the inner pair of mains is of one piece. Read on the inner bearings.' },
  { maker: 'Yarrowkeld', code: 'Y872-V', cycle: '4T', stroke: 96.8, width: 88.0, pin: [38, 87.0], span: 118, left: [46, 'plain, cam side'], right: [62, 'splines, mislead; plain at 44'], clearance: [0.15, 0.45], limit: [0.08, 0.03], fit: [0.125, 0.165], bore: 25.0, build: TWO_RODS, note: 'V-twin, 45°; a forked and a plain rod on one pin. The side clearance is the forked rod’s.' },
]

/** A hundred-thousandth of a millimetre, as fine as the book keeps. */
function kept(mm: number): number {
  return Math.round(mm * 100_000) / 100_000
}

function figuresOf(engine: Model): Record<Exclude<EngineFigureName, 'playLimitMm' | 'rimRadiusMm'>, number> {
  const { span, width, pin, clearance, fit, limit } = engine
  const supportLeftMm = engine.supportLeft ?? span / 2
  const halfWindow = engine.cycle === '4T' || engine.kart ? 0.05 : 0.1
  return {
    strokeMm: engine.stroke,
    widthMinMm: kept(width - halfWindow),
    widthMaxMm: kept(width + halfWindow),
    clearanceMinMm: clearance[0],
    clearanceMaxMm: clearance[1],
    pinDiameterMm: pin[0],
    pinLengthMm: pin[1],
    engagementMm: engine.bore,
    fitMinMm: fit[0],
    fitMaxMm: fit[1],
    shopFloorMm: engine.shopFloor ?? kept(0.95 * fit[0]),
    supportLeftMm,
    supportRightMm: span - supportLeftMm,
    dialLeftMm: engine.left[0],
    dialRightMm: engine.right[0],
    limitMakerLeftMm: limit[0],
    limitMakerRightMm: limit[0],
    limitHouseLeftMm: limit[1],
    limitHouseRightMm: limit[1],
  }
}

/** The model sheets of the demo shop, as the command that adds one takes them. */
export const DEMO_ENGINES: readonly EngineNew[] = MODELS.map((engine) => ({
  maker: engine.maker,
  code: engine.code,
  cycle: engine.cycle,
  surfaceLeft: engine.left[1],
  surfaceRight: engine.right[1],
  note: engine.note,
  ...(engine.build === undefined ? {} : { build: engine.build }),
  figures: Object.entries(figuresOf(engine)).map(([name, value]) => ({
    name: name as EngineFigureName,
    value,
    source: 'invented' as const,
  })),
}))

/** Invented makers of rod kits; the part number is the model code with K1 or K2. */
export const KIT_MAKERS = [
  { name: 'Ardenlow', part: (code: string) => `${code} K1`, lotLetter: 'A' },
  { name: 'Stellmarch', part: (code: string) => `${code} K2`, lotLetter: 'S' },
] as const

/** The lot whose cages broke, and the models that got kits of it. */
export const BAD_LOT = { maker: 'Stellmarch', lot: 'S-0936', codes: ['F124-K', 'R124-X'] } as const

/** A lot number as these makers write it, such as A-2417. */
export function lotOf(letter: string, number: number): string {
  return `${letter}-${String(number).padStart(4, '0')}`
}
