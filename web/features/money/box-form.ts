import type { Job } from '#contract/jobs.ts'
import type { BoxCheck } from '#contract/money.ts'
import { boxFaults } from '#core/box-list.ts'
import { readQuantity } from '#web/lib/quantity.ts'

interface BoxLine {
  what: string
  came: number
  /** As typed. */
  back: string
  why: string
}

export interface BoxForm {
  lines: BoxLine[]
  carrier: string
  carrierNo: string
  /** Kilograms, as typed. */
  weight: string
  ownersWord: string
}

const THE_CRANK = 'the crank'

/**
 * The list to tick off: the crank, what came in with it, and what goes home beside them. Whatever an earlier check found
 * stands as it was found.
 */
export function boxFormOf(job: Pick<Job, 'cameWith' | 'box' | 'oldPartsBack'>): BoxForm {
  const checked = job.box
  const came = [
    { what: THE_CRANK, came: 1 },
    ...job.cameWith.map((one) => ({ what: one.what, came: one.count ?? 1 })),
    ...(job.oldPartsBack ? [{ what: 'old parts', came: 1 }] : []),
  ]
  const found = (what: string) => checked?.items.find((one) => one.what === what)
  const others = (checked?.items ?? []).filter((one) => !came.some((line) => line.what === one.what))
  return {
    lines: [...came, ...others].map(({ what, came: count }) => ({
      what,
      came: count,
      back: found(what) === undefined ? '' : String(found(what)?.back ?? ''),
      why: found(what)?.why ?? '',
    })),
    carrier: checked?.carrier ?? '',
    carrierNo: checked?.carrierNo ?? '',
    weight: checked?.grams === undefined ? '' : String(checked.grams / 1000),
    ownersWord: checked?.ownersWord ?? '',
  }
}

export interface BoxFaults {
  /** By place in the list. */
  lines: Record<number, string>
  weight?: string
}

export type ReadBox = { ok: true; list: BoxCheck } | { ok: false; faults: BoxFaults }

/** The list as the wire wants it, or what is to be mended: nothing that came in leaves it silently. */
export function readBox(form: BoxForm, cameWith: Job['cameWith']): ReadBox {
  const faults: BoxFaults = { lines: {} }
  const items = form.lines.map((line, place) => {
    const back = line.back.trim() === '' ? Number.NaN : Number(line.back.trim())
    if (!Number.isInteger(back) || back < 0 || back > 99) faults.lines[place] = `How many go back? ${line.came} came in.`
    return { what: line.what, came: line.came, back, ...(line.why.trim() === '' ? {} : { why: line.why.trim() }) }
  })
  if (Object.keys(faults.lines).length === 0) {
    const came = cameWith.map(({ what, count }) => (count === undefined ? { what } : { what, count }))
    for (const fault of boxFaults(came, items)) if (fault.item !== null) faults.lines[fault.item] ??= fault.detail
  }
  const weight = readQuantity(form.weight, 'kg')
  if (!weight.ok && !weight.nothingTyped) faults.weight = weight.detail
  if (weight.ok && (weight.value < 0 || weight.value > 200)) faults.weight = 'From 0 to 200 kg.'
  if (Object.keys(faults.lines).length > 0 || faults.weight !== undefined) return { ok: false, faults }
  return {
    ok: true,
    list: {
      items,
      ...(form.carrier.trim() === '' ? {} : { carrier: form.carrier.trim() }),
      ...(form.carrierNo.trim() === '' ? {} : { carrierNo: form.carrierNo.trim() }),
      ...(weight.ok ? { grams: Math.round(weight.value * 1000) } : {}),
      ...(form.ownersWord.trim() === '' ? {} : { ownersWord: form.ownersWord.trim() }),
    },
  }
}
