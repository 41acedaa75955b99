export interface TurnMark {
  deg: number
  name: string
}

export const FOUR_MARKS: readonly TurnMark[] = [
  { deg: 0, name: '12' },
  { deg: 90, name: '3' },
  { deg: 180, name: '6' },
  { deg: 270, name: '9' },
]

export interface TurnDialProps {
  /** The mark to bring under the dial, degrees clockwise from the pin, seen from the right-hand end. */
  atDeg: number
  marks?: readonly TurnMark[]
  size?: number
}

/** Which mark comes under the dial now; the disc is drawn turned as the crank must lie. */
export function TurnDial({ atDeg, marks = FOUR_MARKS, size = 210 }: TurnDialProps) {
  const wanted = marks.find((mark) => mark.deg === atDeg)
  const at = (deg: number, radius: number): [number, number] => {
    const turn = ((deg - atDeg) * Math.PI) / 180
    return [115 + radius * Math.sin(turn), 125 - radius * Math.cos(turn)]
  }
  const [pinX, pinY] = at(0, 34)
  const name = wanted?.name ?? `${Math.round(atDeg)}°`
  return (
    <svg
      className="marks"
      role="img"
      aria-label={`Bring mark ${name} under the dial.`}
      viewBox="20 2 190 210"
      width={size}
      height={(size * 210) / 190}
    >
      <circle cx={115} cy={125} r={80} fill="var(--sheet)" stroke="var(--ink)" strokeWidth={2} />
      <path d="M115 6v28" stroke="var(--copper)" strokeWidth={6} />
      <path d="M104 30l11 15 11-15z" fill="var(--copper)" />
      <circle cx={pinX} cy={pinY} r={12} fill="none" stroke="var(--soft)" strokeWidth={2} />
      {marks.map((mark) => {
        const [x, y] = at(mark.deg, 62)
        const on = mark.deg === atDeg
        return (
          <text
            key={mark.deg}
            x={x}
            y={y + 9}
            textAnchor="middle"
            fontSize={marks.length > 6 ? 18 : 26}
            fontWeight={on ? 600 : 500}
            style={{ fill: on ? 'var(--copper)' : 'var(--soft)' }}
          >
            {mark.name}
          </text>
        )
      })}
    </svg>
  )
}
