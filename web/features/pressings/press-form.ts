import type { PressingNew } from '#contract/pressings.ts'
import type { Direction } from '#web/features/pressings/press-words.ts'
import { fields, flag, oneOf, optional, read, text } from '#web/lib/shape.ts'

/** One web at the press, as far as it is filled in; kept on the tablet until the book has it. */
export interface PressForm {
  id: string
  side: 'left' | 'right'
  /** Tenths of a tonne as keyed; empty while not. */
  peak: string
  peakTaken: boolean
  notReadBecause: string
  galling?: 'none' | 'light' | 'heavy' | undefined
  crack?: 'yes' | 'no' | undefined
  webMark: string
  lubricant: string
  note: string
  doneAt?: string | undefined
}

const pressForm = fields<PressForm>({
  id: text,
  side: oneOf('left', 'right'),
  peak: text,
  peakTaken: flag,
  notReadBecause: text,
  galling: optional(oneOf('none', 'light', 'heavy')),
  crack: optional(oneOf('yes', 'no')),
  webMark: text,
  lubricant: text,
  note: text,
  doneAt: optional(text),
})

/** What was filled in as the tablet kept it; undefined where it is something else. */
export function readPressForm(raw: unknown): PressForm | undefined {
  return read(pressForm, raw)
}

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

function ifWritten(name: 'webMark' | 'lubricant' | 'note', text: string): Partial<PressingNew> {
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
    ...ifWritten('webMark', form.webMark),
    ...ifWritten('lubricant', form.lubricant),
    ...ifWritten('note', form.note),
  }
}
