import { z } from 'zod'
import type { PressingNew } from '#contract/measurements.ts'
import type { Direction } from '#web/features/pressings/press-words.ts'

/** One web at the press, as far as it is filled in; kept on the tablet until the book has it. */
export const pressForm = z.strictObject({
  id: z.string(),
  side: z.enum(['left', 'right']),
  /** Tenths of a tonne as keyed; empty while not. */
  peak: z.string(),
  peakTaken: z.boolean(),
  notReadBecause: z.string(),
  galling: z.enum(['none', 'light', 'heavy']).optional(),
  crack: z.enum(['yes', 'no']).optional(),
  webMark: z.string(),
  lubricant: z.string(),
  note: z.string(),
  doneAt: z.string().optional(),
})
export type PressForm = z.infer<typeof pressForm>

export function emptyPress(id: string, side: PressForm['side'], lubricant: string): PressForm {
  return { id, side, peak: '', peakTaken: false, notReadBecause: '', webMark: '', lubricant, note: '' }
}

/** Keyed in tenths: 95 is 9.5. */
export function peakTonnesOf(peak: string): number | undefined {
  return peak === '' || Number(peak) === 0 ? undefined : Number(peak) / 10
}

/** What a press apart has to say besides its peak. */
export function lookLacking(form: PressForm, direction: Direction): { name: 'galling' | 'crack' | 'webMark'; text: string }[] {
  if (direction === 'together') return []
  return [
    ...(form.galling === undefined ? [{ name: 'galling' as const, text: 'Say how the bore looks.' }] : []),
    ...(form.crack === undefined ? [{ name: 'crack' as const, text: 'Say whether there is a crack.' }] : []),
    ...(form.webMark.trim() === '' ? [{ name: 'webMark' as const, text: 'Mark the web, and say how.' }] : []),
  ]
}

function optional(name: 'webMark' | 'lubricant' | 'note', text: string): Partial<PressingNew> {
  return text.trim() === '' ? {} : { [name]: text.trim() }
}

export function pressForBook(form: PressForm, direction: Direction): PressingNew {
  const peakTonnes = peakTonnesOf(form.peak)
  const because = form.notReadBecause.trim()
  return {
    id: form.id,
    direction,
    side: form.side,
    ...(form.doneAt === undefined ? {} : { occurredAt: form.doneAt }),
    ...(because !== '' || peakTonnes === undefined ? { notReadBecause: because } : { peakTonnes }),
    ...(form.galling === undefined ? {} : { galling: form.galling }),
    ...(form.crack === undefined ? {} : { crack: form.crack === 'yes' }),
    ...optional('webMark', form.webMark),
    ...optional('lubricant', form.lubricant),
    ...optional('note', form.note),
  }
}
