/** Why a sum cannot be done. The closed list that the wire repeats as `reason`. */
export const REFUSAL_REASONS = [
  'too-few-points',
  'no-spread',
  'all-censored',
  'marks-too-close',
  'out-of-range',
  'no-fit',
  'not-balanced',
] as const
export type RefusalReason = (typeof REFUSAL_REASONS)[number]

/** A sum that could not be done, with a sentence that a person at the bench can act on. */
export interface Refusal {
  ok: false
  reason: RefusalReason
  detail: string
}

/** What a core sum answers: its value, or an expected refusal. Misuse (a NaN, a wrong size) throws RangeError instead. */
export type Answer<Value> = { ok: true; value: Value } | Refusal

export function refuse(reason: RefusalReason, detail: string): Refusal {
  return { ok: false, reason, detail }
}

export function answered<Value>(value: Value): Answer<Value> {
  return { ok: true, value }
}
