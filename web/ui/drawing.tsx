import type { Ink, Mark, Drawing as Sheet } from '#core/marks.ts'

export interface DrawingProps {
  drawing: Sheet
  /** Width in CSS pixels at most; the drawing's own unless said. It shrinks with its column. */
  maxWidth?: number
}

function colour(ink: Ink | undefined): string {
  return ink === undefined ? 'none' : `var(--${ink})`
}

function Painted({ mark }: { mark: Mark }) {
  switch (mark.kind) {
    case 'path':
      return (
        <path
          d={mark.d}
          fill={colour(mark.fill)}
          stroke={colour(mark.stroke)}
          strokeWidth={mark.width}
          strokeDasharray={mark.dash?.join(' ')}
        />
      )
    case 'circle':
      return <circle cx={mark.x} cy={mark.y} r={mark.r} fill={colour(mark.fill)} stroke={colour(mark.stroke)} strokeWidth={mark.width} />
    case 'text':
      return (
        <text
          className={mark.figure ? 'fig' : undefined}
          x={mark.x}
          y={mark.y}
          fontSize={mark.size}
          fontWeight={mark.strong ? 600 : undefined}
          textAnchor={mark.anchor}
          style={{ fill: colour(mark.ink ?? 'ink') }}
        >
          {mark.text}
        </text>
      )
  }
}

/** Paints a drawing of the core on the screen, mark by mark; the same marks go on paper. */
export function Drawing({ drawing, maxWidth = drawing.width }: DrawingProps) {
  return (
    <svg
      className="marks"
      role="img"
      aria-label={drawing.label}
      viewBox={`0 0 ${drawing.width} ${drawing.height}`}
      width="100%"
      style={{ maxWidth }}
    >
      {drawing.marks.map((mark, place) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: marks have no names and a drawing is replaced as a whole
        <Painted key={place} mark={mark} />
      ))}
    </svg>
  )
}
