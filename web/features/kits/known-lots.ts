import type { KitModel } from '#web/features/kits/queries.ts'
import { counted } from '#web/lib/format.ts'

/** One lot that the shop has had, and how many cranks have a kit of it. */
export interface KnownLot {
  id: string
  maker: string
  part: string
  lot: string
  fitted: number
}

export function lotsOf(models: readonly KitModel[]): KnownLot[] {
  return models.flatMap(({ maker, part, lots }) => lots.map((one) => ({ id: one.id, maker, part, lot: one.lot, fitted: one.fitted })))
}

/** `3 cranks have this lot`, `no crank has this lot yet` */
export function fittedWords(fitted: number): string {
  if (fitted === 0) return 'no crank has this lot yet'
  return `${counted(fitted, 'crank')} ${fitted === 1 ? 'has' : 'have'} this lot`
}
