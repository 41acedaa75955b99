import type { PracticeRun } from '#contract/practice.ts'
import { drawCrank } from '#core/crank-drawing.ts'
import type { CrankGeometry } from '#core/crank-shape.ts'
import { dialText } from '#web/features/practice/words.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { Drawing } from '#web/ui/drawing.tsx'

/** What the drawing needs besides the sizes of the practice crank: width, pin and its bore as common singles have them. */
const USUAL = { widthMm: 46, engagementMm: 15, pinDiameterMm: 22 } as const
const HIGHEST = 360

/** How the made-up crank lay, to one scale, with what each end swung as taken and as put down. */
export function CrankDrawn({ run }: { run: PracticeRun }) {
  const [box, { width, letter }] = useRoom<HTMLDivElement>({ width: 640, letter: 16 })
  const { strokeMm, rimRadiusMm, held, supportLeftMm, supportRightMm, dialLeftMm, dialRightMm } = run.crank
  const geometry: CrankGeometry = {
    strokeMm,
    rimRadiusMm,
    throws: [{ atMm: 0, ...USUAL }],
    left: { supportMm: supportLeftMm, dialMm: dialLeftMm, surface: 'plain' },
    right: { supportMm: supportRightMm, dialMm: dialRightMm, surface: 'plain' },
  }
  const first = run.readings[0]
  const last = run.readings.at(-1)
  const swings = (side: 'left' | 'right') => [
    `as taken ${dialText(first?.[side].tirMm ?? 0)}`,
    `put down ${dialText(last?.[side].tirMm ?? 0)}`,
  ]
  return (
    <div className="practice-drawn" ref={box}>
      <Drawing
        drawing={drawCrank(geometry, {
          held,
          width: Math.max(width, letter * 20),
          maxHeight: HIGHEST,
          text: letter,
          spans: true,
          over: { left: swings('left'), right: swings('right') },
        })}
      />
    </div>
  )
}
