import type { OfficeCrank } from '#contract/office-cranks.ts'
import { CAUSE_WORDS } from '#core/comeback.ts'
import type { cranksOf } from '#web/features/office/queries.ts'
import { KIND_WORDS, WAITING_WORDS } from '#web/features/office/words.ts'

type Filters = Parameters<typeof cranksOf>[0]

/**
 * What a list is narrowed to, in words, a part each. Engines, persons and lots stand in the address by their ids; their
 * names are those of the cranks that came, since every crank of the list has the same.
 */
export function filterWords(filters: Filters, one: OfficeCrank | undefined): string[] {
  const { kind, engine, person, lot, notLot, cause, back, waiting } = filters
  return [
    ...(kind === undefined ? [] : [KIND_WORDS[kind]]),
    ...(engine === undefined ? [] : [one?.engine ?? 'one engine']),
    ...(person === undefined ? [] : [person === 'none' ? 'nobody called it true' : `called true by ${one?.truedBy ?? 'one person'}`]),
    ...(lot === undefined ? [] : [lot === 'none' ? 'no kit named' : (one?.lot ?? 'one lot')]),
    ...(notLot === undefined ? [] : ['with a kit of another lot']),
    ...(back === undefined ? [] : [back === 'yes' ? 'came back' : 'not back']),
    ...(cause === undefined ? [] : [`cause: ${cause === 'none' ? 'not decided yet' : CAUSE_WORDS[cause]}`]),
    ...(waiting === undefined ? [] : [WAITING_WORDS[waiting]]),
  ]
}
