import { type CSSProperties, useState } from 'react'
import { useKept } from '#web/lib/kept.ts'
import { KEY_PX, keyPx, keyPxFromCard } from '#web/lib/mode.ts'
import { Button, Buttons } from '#web/ui/button.tsx'

const CARD_MM = 85.6
const KEY_MM = 20
const STEPS = [-20, -5, -1, 1, 5, 20] as const

/** A bank card drawn on the screen; made as wide as the real one held to it, the keys are 20 mm. */
export function CardSize() {
  const [px, setPx] = useKept(keyPx)
  const [card, setCard] = useState(() => Math.round((px * CARD_MM) / KEY_MM))
  const resize = (by: number) => {
    const next = Math.max(Math.ceil((KEY_PX.least * CARD_MM) / KEY_MM), Math.min(Math.floor((KEY_PX.most * CARD_MM) / KEY_MM), card + by))
    setCard(next)
    setPx(keyPxFromCard(next))
  }
  return (
    <section aria-label="Size of the keys">
      <h2>Size of the keys</h2>
      <p>
        Hold a bank card to the screen, its left edge on the left line. Make the drawn one as wide. The keys of the bench are then 20 mm.
      </p>
      <div className="card" style={{ '--card': `${card}px` } as CSSProperties} role="img" aria-label={`Card, ${card} pixels wide`} />
      {card > window.innerWidth - 40 && <p>The screen is narrower than the card: turn the tablet on its side to measure.</p>}
      <Buttons>
        {STEPS.map((by) => (
          <Button key={by} onClick={() => resize(by)} aria-label={by < 0 ? `Narrower by ${-by}` : `Wider by ${by}`}>
            {by < 0 ? `\u2212${-by}` : `+${by}`}
          </Button>
        ))}
      </Buttons>
      <p role="status">
        A key is now <span className="fig">{px}</span> pixels.
      </p>
      <div className="sample-key" aria-hidden="true">
        8
      </div>
    </section>
  )
}
