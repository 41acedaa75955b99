import { type Kept, kept } from '#web/lib/kept.ts'

/** How the screen is lit: `light` at a desk, `bench` dark, `sun` in a bright doorway. Chosen by hand, kept by the tablet. */
export const MODES = ['light', 'bench', 'sun'] as const
export type Mode = (typeof MODES)[number]

export const mode: Kept<Mode> = kept<Mode>(
  'throwbook.mode',
  'light',
  (text) => MODES.find((one) => one === text),
  (value) => value,
)

/** Bench keys are 20 mm square; how many CSS pixels that is depends on the tablet. Measured with a card of 85.6 mm held to the screen. */
export const KEY_PX = { least: 72, usual: 104, most: 160 } as const

export const keyPx: Kept<number> = kept<number>(
  'throwbook.key-px',
  KEY_PX.usual,
  (text) => {
    const px = Number(text)
    return Number.isFinite(px) && px >= KEY_PX.least && px <= KEY_PX.most ? px : undefined
  },
  String,
)

/** CSS pixels of 20 mm on a screen where a bank card (ISO/IEC 7810, 85.6 mm) measured `cardPx`. Held within what a keypad can be. */
export function keyPxFromCard(cardPx: number): number {
  if (!Number.isFinite(cardPx) || cardPx <= 0) throw new RangeError('keyPxFromCard needs the width of the card in pixels')
  return Math.min(KEY_PX.most, Math.max(KEY_PX.least, Math.round((cardPx * 20) / 85.6)))
}

/** Keeps <html data-mode> and --key in step with what was chosen; call once, before the first paint of the app. */
export function dressPage(root: HTMLElement): () => void {
  const dress = () => {
    root.dataset.mode = mode.read()
    root.style.setProperty('--key', `${keyPx.read()}px`)
  }
  dress()
  const letGo = [mode.subscribe(dress), keyPx.subscribe(dress)]
  return () => {
    for (const one of letGo) one()
  }
}
