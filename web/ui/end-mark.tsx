/** The two ends, told by form so that grey print and every eye can tell them: left a filled disc, right an open square. */
export type End = 'left' | 'right'

export const END_LETTER = { left: 'L', right: 'R' } as const satisfies Record<End, string>

/** Dashes that go with the form: the left end's lines are solid, the right end's dashed. */
export function endDash(end: End): string | undefined {
  return end === 'left' ? undefined : '8 5'
}

export interface EndShapeProps {
  end: End
  x: number
  y: number
  /** Half its width. */
  r: number
}

/** The mark inside a drawing. */
export function EndShape({ end, x, y, r }: EndShapeProps) {
  if (end === 'left') return <circle cx={x} cy={y} r={r} fill="var(--ink)" />
  const half = r * 0.9
  return (
    <rect
      x={x - half}
      y={y - half}
      width={2 * half}
      height={2 * half}
      fill="var(--paper)"
      stroke="var(--ink)"
      strokeWidth={Math.max(1.6, r * 0.22)}
    />
  )
}

export interface EndMarkProps {
  end: End
  /** With the letter beside it. */
  letter?: boolean
  /** Height in CSS pixels of the disc or square. */
  size?: number
}

/** The mark inside a line of text or a table; said as “left” or “right”. */
export function EndMark({ end, letter = false, size = 16 }: EndMarkProps) {
  const box = size + 4
  return (
    <span className="end-mark">
      <svg width={box} height={box} viewBox={`0 0 ${box} ${box}`} role="img" aria-label={end}>
        <EndShape end={end} x={box / 2} y={box / 2} r={size / 2} />
      </svg>
      {letter && (
        <b className="end-letter" aria-hidden="true">
          {END_LETTER[end]}
        </b>
      )}
    </span>
  )
}
