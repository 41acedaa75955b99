import { readLength } from '#core/units.ts'

export type ReadQuantity = { ok: true; value: number } | { ok: false; nothingTyped: boolean; detail: string }

/**
 * Reads a decimal that is no length (hours, tonnes, degrees): the same marks and the same refusals as readLength. The
 * quantity's own unit may stand behind the figure; any other letter is refused.
 */
export function readQuantity(typed: string, unit: string): ReadQuantity {
  const trimmed = typed.trim()
  const bare = unit !== '' && trimmed.toLowerCase().endsWith(unit.toLowerCase()) ? trimmed.slice(0, -unit.length) : trimmed
  const read = readLength(bare, 'mm')
  if (!read.ok) {
    const letters = read.reason === 'unknown-unit'
    return {
      ok: false,
      nothingTyped: read.reason === 'nothing-typed',
      detail: letters ? `Figures only; the unit here is ${unit}.` : read.detail,
    }
  }
  if (/[a-z]/i.test(bare)) return { ok: false, nothingTyped: false, detail: `Figures only; the unit here is ${unit}.` }
  return { ok: true, value: read.value.mm }
}

/** Reads an amount of money into minor units; refuses what is finer than the currency or below nothing. */
export function readMoney(typed: string, currency: string): ReadQuantity {
  const read = readQuantity(typed, currency)
  if (!read.ok) return read
  const { maximumFractionDigits: digits = 2 } = new Intl.NumberFormat('en-US', { style: 'currency', currency }).resolvedOptions()
  const decimals = /[.,](\d*)/.exec(typed)?.[1]?.length ?? 0
  if (decimals > digits)
    return {
      ok: false,
      nothingTyped: false,
      detail: digits === 0 ? `Whole ${currency} only.` : `${digits} figures after the mark at most.`,
    }
  if (read.value < 0) return { ok: false, nothingTyped: false, detail: 'Not less than 0.' }
  return { ok: true, value: Math.round(read.value * 10 ** digits) }
}
