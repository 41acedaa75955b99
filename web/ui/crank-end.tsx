import { END_LETTER, type End, EndShape, endDash } from '#web/ui/end-mark.tsx'

export interface CrankEndProps {
  /** Where each end is high, degrees clockwise from the pin, seen from the right-hand end. Absent: too small to say. */
  leftHighAtDeg?: number | undefined
  rightHighAtDeg?: number | undefined
  /** Where the hand goes next: the rim mark, and what is there (`right web`, `wedge here`). */
  act?: { atDeg: number; words: string } | undefined
  /** The marks of this rim run anticlockwise, so that 3 and 9 change places; the picture stays as the crank lies. */
  anticlockwise?: boolean
  /** Width and height in CSS pixels; 380 unless said. It shrinks with its column. */
  size?: number
}

const R = 104
const C = 196
const BOX = 2 * C
const HOURS = [
  { deg: 0, name: '12' },
  { deg: 90, name: '3' },
  { deg: 180, name: '6' },
  { deg: 270, name: '9' },
] as const

function point(deg: number, radius: number): [number, number] {
  const turn = (deg * Math.PI) / 180
  return [round(C + radius * Math.sin(turn)), round(C - radius * Math.cos(turn))]
}

function round(value: number): number {
  return Math.round(value * 100) / 100
}

function line(deg: number, from: number, to: number): string {
  return `M${point(deg, from).join(' ')}L${point(deg, to).join(' ')}`
}

/** @example crankEndLabel({ leftHighAtDeg: 81 }) // 'Seen from the right-hand end, pin at 12: left end high at 81 degrees; right end too small to say.' */
export function crankEndLabel({ leftHighAtDeg, rightHighAtDeg, act }: Omit<CrankEndProps, 'size' | 'anticlockwise'>): string {
  const high = (deg: number | undefined) => (deg === undefined ? 'too small to say' : `high at ${Math.round(deg)} degrees`)
  const next = act === undefined ? '' : ` Next: ${act.words}, at ${Math.round(act.atDeg)} degrees.`
  return `Seen from the right-hand end, pin at 12: left end ${high(leftHighAtDeg)}; right end ${high(rightHighAtDeg)}.${next}`
}

/** The crank end-on, as it lies under the dial, seen from the right-hand end: pin at 12, four marks, both high spots, where the blow goes. */
export function CrankEnd({ leftHighAtDeg, rightHighAtDeg, act, anticlockwise = false, size = 380 }: CrankEndProps) {
  const label = crankEndLabel({ leftHighAtDeg, rightHighAtDeg, act })
  // Two high spots that fall together would hide each other; the right one then stands further in.
  const close =
    leftHighAtDeg !== undefined && rightHighAtDeg !== undefined && Math.abs(((leftHighAtDeg - rightHighAtDeg + 540) % 360) - 180) < 24
  return (
    <svg className="marks" role="img" aria-label={label} viewBox={`0 0 ${BOX} ${BOX}`} width={size} height={size}>
      <circle cx={C} cy={C} r={R} fill="var(--sheet)" stroke="var(--ink)" strokeWidth={1.6} />
      {Array.from({ length: 36 }, (_, tick) => tick * 10).map((deg) => (
        <path
          key={deg}
          d={line(deg, R, R - (deg % 90 === 0 ? 14 : deg % 30 === 0 ? 8 : 5))}
          stroke="var(--ink)"
          strokeWidth={deg % 90 === 0 ? 1.8 : 0.8}
        />
      ))}
      {HOURS.filter(({ deg }) => act === undefined || Math.abs(((act.atDeg - (anticlockwise ? -deg : deg) + 540) % 360) - 180) > 12).map(
        ({ deg, name }) => {
          const [x, y] = point(anticlockwise ? -deg : deg, R + 20)
          return (
            <text key={name} x={x} y={y + 8} textAnchor="middle" fontSize={22} style={{ fill: 'var(--soft)' }}>
              {name}
            </text>
          )
        },
      )}
      <circle cx={C} cy={point(0, R * 0.58)[1]} r={20} fill="var(--paper)" stroke="var(--ink)" strokeWidth={1.6} />
      <circle cx={C} cy={C} r={17} fill="none" stroke="var(--ink)" strokeWidth={1.6} />
      <path d={`M${C - 26} ${C}H${C + 26}M${C} ${C - 26}V${C + 26}`} stroke="var(--soft)" strokeDasharray="7 3 2 3" />
      {leftHighAtDeg !== undefined && <HighSpot end="left" deg={leftHighAtDeg} reach={R - 26} />}
      {rightHighAtDeg !== undefined && <HighSpot end="right" deg={rightHighAtDeg} reach={close ? R - 58 : R - 26} />}
      {act !== undefined && <Act {...act} />}
    </svg>
  )
}

function HighSpot({ end, deg, reach }: { end: End; deg: number; reach: number }) {
  const [x, y] = point(deg, reach - 4)
  return (
    <g>
      <path d={line(deg, 20, reach - 4)} stroke="var(--ink)" strokeWidth={2.6} strokeDasharray={endDash(end)} />
      <EndShape end={end} x={x} y={y} r={14} />
      <text
        x={x}
        y={y + 6}
        textAnchor="middle"
        fontSize={16}
        fontWeight={600}
        style={{ fill: end === 'left' ? 'var(--paper)' : 'var(--ink)' }}
      >
        {END_LETTER[end]}
      </text>
    </g>
  )
}

function Act({ atDeg, words }: { atDeg: number; words: string }) {
  const [tailX, tailY] = point(atDeg, R + 48)
  const side = Math.sin((atDeg * Math.PI) / 180)
  const down = -Math.cos((atDeg * Math.PI) / 180)
  const anchor = side > 0.35 ? 'end' : side < -0.35 ? 'start' : 'middle'
  // Beside the tail of the arrow, towards the outside of the picture, clear of the rim.
  const x = anchor === 'middle' ? tailX : side > 0 ? BOX - 4 : 4
  const y = anchor === 'middle' ? (down > 0 ? tailY + 24 : tailY - 8) : tailY + (down >= -0.01 ? 34 : -18)
  const head = [point(atDeg, R - 6), point(atDeg - 7, R + 17), point(atDeg + 7, R + 17)].map((at) => at.join(' ')).join('L')
  return (
    <g>
      <path d={line(atDeg, R + 48, R + 8)} stroke="var(--copper)" strokeWidth={9} />
      <path d={`M${head}Z`} fill="var(--copper)" />
      <text className="halo" x={x} y={y} textAnchor={anchor} fontSize={22} fontWeight={600} style={{ fill: 'var(--copper)' }}>
        {words}
      </text>
    </g>
  )
}
