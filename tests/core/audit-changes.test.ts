import { expect, test } from 'vitest'
import { type AuditSayings, auditChanges } from '#core/audit-changes.ts'
import { AUDIT_ACTION_WORDS, AUDIT_THINGS, auditActionWords, auditFieldWords, auditThingOf } from '#core/audit-words.ts'

const MAREK = '01930000-0000-7000-8000-000000000003'
const say: AuditSayings = {
  name: (id) => (id === MAREK ? 'Marek' : 'nobody'),
  money: (minor) => `${minor / 100} EUR`,
  instant: (iso) => `at ${iso.slice(0, 10)}`,
  day: (date) => `on ${date}`,
}

test('only what differs is told, with the words of the shop', () => {
  const before = { name: 'A', phone: '1', holderId: null, promisedOn: '2026-12-01', state: 'trued', maySign: false, version: 1 }
  const after = { name: 'A', phone: '2', holderId: MAREK, promisedOn: null, state: 'gone', maySign: true, version: 2 }
  expect(auditChanges(before, after, say)).toEqual([
    { field: 'phone', label: 'phone', before: '1', after: '2' },
    { field: 'holderId', label: 'who has it', after: 'Marek' },
    { field: 'promisedOn', label: 'promise', before: 'on 2026-12-01' },
    { field: 'state', label: 'state', before: 'true', after: 'gone' },
    { field: 'maySign', label: 'may sign', before: 'no', after: 'yes' },
  ])
})

test('figures carry their unit and currency, codes lose their dashes', () => {
  const told = auditChanges(
    undefined,
    {
      houseLimitMm: 0.02,
      amountMinor: 1250,
      lookingOverFee: 3000,
      taxPermille: 77,
      hours: 61,
      atDeg: 143,
      kind: 'check-and-report',
      idleMinutes: 5,
    },
    say,
  )
  expect(told.map(({ after }) => after)).toEqual(['0.02 mm', '12.5 EUR', '30 EUR', '7.7 %', '61 h', '143°', 'check and report', '5 min'])
})

test('what lies within is said in a breath, never as it is written on the wire', () => {
  const [values, customer, cameWith] = auditChanges(
    null,
    {
      values: [
        { place: 'left', mm: 0.03, atDeg: 90 },
        { place: 'right-again', mm: 0.02, typed: '2' },
      ],
      customer: { name: 'Hollis', phone: '1', id: MAREK },
      cameWith: ['keys', 'nut'],
    },
    say,
  )
  expect(values?.after).toBe('left 90° 0.03 mm; right again 0.02 mm')
  expect(customer?.after).toBe('name Hollis, phone 1')
  expect(cameWith?.after).toBe('keys, nut')
})

test('figures are told to six digits, and what is worked out from others is left to the chain', () => {
  expect(auditChanges(null, { foretoldMm: 0.12165525060596438, runout: { left: { tirMm: 1 } }, tag: '318-V' }, say)).toEqual([
    { field: 'foretoldMm', label: 'foretold', after: '0.121655 mm' },
  ])
})

test('the order of fields within a value is no difference, nor are two kinds of nothing', () => {
  expect(auditChanges({ a: { x: 1, y: [2] } }, { a: { y: [2], x: 1 } }, say)).toEqual([])
  expect(auditChanges({ a: '' }, { a: null }, say)).toEqual([])
  expect(auditChanges('text', 5, say)).toEqual([])
})

test('a very long text is cut where it is told', () => {
  const [told] = auditChanges({}, { note: 'word '.repeat(500) }, say)
  expect(told?.after?.length).toBeLessThanOrEqual(602)
  expect(told?.after?.endsWith(' …')).toBe(true)
})

test('what is not listed goes by its own name', () => {
  expect(auditActionWords('paint it blue')).toBe('paint it blue')
  expect(auditActionWords('constructor')).toBe('constructor')
  expect(auditFieldWords('limitMakerRightMm')).toBe('limit maker right')
  expect(auditFieldWords('mm')).toBe('mm')
  expect(auditThingOf('measurement')).toBe('job')
  expect(auditThingOf('something')).toBeNull()
})

test('no name of the chain belongs to two kinds of things, and every sentence follows a name', () => {
  const names = Object.values(AUDIT_THINGS).flat()
  expect(new Set(names).size).toBe(names.length)
  for (const [action, words] of Object.entries(AUDIT_ACTION_WORDS))
    expect([action, words]).toEqual([action, expect.stringMatching(/^[a-z]+ ?/)])
})
