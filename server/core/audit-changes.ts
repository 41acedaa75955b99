import { auditFieldWords } from '#core/audit-words.ts'
import { doneWord, ENDS, type JobState, STEPS } from '#core/steps.ts'

/** A field that differs, as a person reads it; a side that is missing had no value. */
export interface AuditChange {
  field: string
  label: string
  before?: string
  after?: string
}

/** How the shop says what the chain keeps as bare values. */
export interface AuditSayings {
  /** The name of the thing with this id; the id itself where it is not in the book. */
  name(id: string): string
  /** An amount in minor units, with its currency. */
  money(minor: number): string
  /** An instant, in the shop's zone. */
  instant(iso: string): string
  /** A calendar date. */
  day(date: string): string
}

/** Bookkeeping of the book itself, what the line says beside its changes, and what is worked out from what stands there. */
const LEFT_OUT: ReadonlySet<string> = new Set([
  'id',
  'version',
  'jobId',
  'tag',
  'seq',
  'recordedAt',
  'personId',
  'byId',
  'beforeId',
  'runout',
])
/** Figures are told to so many digits; the chain keeps them whole. */
const DIGITS = 6
/** Longest text of one value; the whole of it stands in the chain. */
const LONGEST = 600

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/
const DAY = /^\d{4}-\d{2}-\d{2}$/
const CODE = /^[a-z]+(-[a-z]+)+$/
const MONEY_FIELDS: ReadonlySet<string> = new Set(['lookingOverFee', 'owes', 'deposit'])
const STATE_FIELDS: ReadonlySet<string> = new Set(['state', 'step', 'to', 'end'])
const UNIT_OF: readonly (readonly [RegExp, string])[] = [
  [/Mm$|^mm$/, ' mm'],
  [/Deg$/, '°'],
  [/Tonnes$/, ' t'],
  [/C$/, ' °C'],
  [/Minutes$/, ' min'],
  [/^hours$|Hours$/, ' h'],
]

/**
 * What differs between the two sides of a line of the audit chain, field by field in the order in which they stand, with
 * the words of the shop. Where only one side was kept, every field of it is told. Fields without a value on both sides
 * and the book's own bookkeeping are left out.
 *
 * Refuses nothing: what is not an object has no fields. Source: own design.
 *
 * @example auditChanges({ phone: '1', name: 'A' }, { phone: '2', name: 'A' }, { name: String, money: String, instant: String, day: String }) // [{ field: 'phone', label: 'phone', before: '1', after: '2' }]
 */
export function auditChanges(before: unknown, after: unknown, say: AuditSayings): AuditChange[] {
  const [left, right] = [fieldsOf(before), fieldsOf(after)]
  const names = [...new Set([...Object.keys(left), ...Object.keys(right)])].filter((name) => !LEFT_OUT.has(name))
  return names.flatMap((field) => {
    if (written(left[field]) === written(right[field])) return []
    const [was, is] = [inWords(field, left[field], say), inWords(field, right[field], say)]
    if (was === '' && is === '') return []
    return [
      {
        field,
        label: auditFieldWords(field),
        ...(was === '' ? {} : { before: shortened(was) }),
        ...(is === '' ? {} : { after: shortened(is) }),
      },
    ]
  })
}

function fieldsOf(side: unknown): Record<string, unknown> {
  return typeof side === 'object' && side !== null && !Array.isArray(side) ? (side as Record<string, unknown>) : {}
}

/** The same text for the same value, whatever the order of its fields. */
function written(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(written).join()}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value ?? null)
  const fields = Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1))
  return `{${fields.map(([name, inner]) => `${JSON.stringify(name)}:${written(inner)}`).join()}}`
}

function inWords(field: string, value: unknown, say: AuditSayings): string {
  if (value === null || value === undefined) return ''
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return numberInWords(field, value, say)
  if (typeof value === 'string') return textInWords(field, value, say)
  if (Array.isArray(value)) return listInWords(field, value, say)
  const reading = readingInWords(value as Record<string, unknown>)
  if (reading !== null) return reading
  return Object.entries(value as Record<string, unknown>)
    .filter(([name]) => !LEFT_OUT.has(name))
    .flatMap(([name, inner]) => {
      const said = inWords(name, inner, say)
      return said === '' ? [] : [`${auditFieldWords(name)} ${said}`]
    })
    .join(', ')
}

function listInWords(field: string, list: readonly unknown[], say: AuditSayings): string {
  const isPlain = list.every((one) => typeof one !== 'object' || one === null)
  return list
    .map((one) => inWords(field, one, say))
    .filter((said) => said !== '')
    .join(isPlain ? ', ' : '; ')
}

/** A reading of the bench, as it is called out: `left 90° 0.07 mm`; null for anything else. */
function readingInWords({ place, mm, atDeg }: Record<string, unknown>): string | null {
  if (typeof place !== 'string' || typeof mm !== 'number') return null
  return `${place.replaceAll('-', ' ')}${typeof atDeg === 'number' ? ` ${told(atDeg)}°` : ''} ${told(mm)} mm`
}

function told(value: number): number {
  return Number(value.toPrecision(DIGITS))
}

function numberInWords(field: string, value: number, say: AuditSayings): string {
  if (field.endsWith('Minor') || MONEY_FIELDS.has(field)) return Number.isSafeInteger(value) ? say.money(value) : String(value)
  if (field === 'taxPermille') return `${value / 10} %`
  return `${told(value)}${UNIT_OF.find(([pattern]) => pattern.test(field))?.[1] ?? ''}`
}

function textInWords(field: string, value: string, say: AuditSayings): string {
  if (UUID.test(value)) return say.name(value)
  if (INSTANT.test(value)) return say.instant(value)
  if (DAY.test(value)) return say.day(value)
  if (STATE_FIELDS.has(field) && isState(value)) return doneWord(value)
  return CODE.test(value) ? value.replaceAll('-', ' ') : value.trim()
}

function isState(value: string): value is JobState {
  return [...STEPS, ...ENDS].some((state) => state === value)
}

function shortened(said: string): string {
  return said.length <= LONGEST ? said : `${said.slice(0, LONGEST).trimEnd()} …`
}
