import { describe, expect, test } from 'vitest'
import type { Measurement } from '#contract/measurements.ts'
import type { Truing } from '#contract/truing.ts'
import { layTruing } from '#web/features/truing/waiting.ts'
import { asFile, countOf, waitingWords } from '#web/features/waiting/waiting-words.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'
import { withWaiting } from '#web/lib/outbox/shown.ts'
import { withoutNames } from '#web/lib/outbox/without-names.ts'
import { spoken } from '#web/lib/read-back.ts'

const RECORD: OutboxRecord = {
  key: 'key-00000001',
  seq: 1,
  personId: 'p',
  lane: 'j',
  jobId: 'j',
  what: 'width over webs, 4 readings',
  method: 'POST',
  route: '/api/jobs/j/measurements',
  body: { id: 'm', values: [{ place: '0', mm: 64 }] },
  shown: null,
  occurredAt: '2026-11-24T08:00:00.000Z',
  tries: 0,
  notBefore: 0,
  state: 'waiting',
  schema: 1,
}

describe('what lies on the tablet', () => {
  test('an answer is kept without who did it, whose it is and what was written freely', () => {
    const set = { id: 'm', by: 'Jonas', byId: 'p', mm: 0.02, struck: { by: 'Ana', at: 'x', because: 'slipped' }, note: 'for Hollis' }
    expect(
      withoutNames({
        measurements: [set],
        holder: 'Jonas',
        whose: 'Hollis',
        customer: { name: 'Hollis' },
        figures: [{ name: 'widthMinMm' }],
      }),
    ).toEqual({
      measurements: [{ id: 'm', by: 'somebody', byId: 'p', mm: 0.02, struck: { by: 'somebody', at: 'x', because: 'slipped' } }],
      figures: [{ name: 'widthMinMm' }],
    })
  })

  test('a row that the book has is not shown twice', () => {
    expect(withWaiting([{ id: 'a' }, { id: 'b' }], [{ id: 'b' }, { id: 'c' }])).toEqual([{ id: 'a' }, { id: 'b' }, { id: 'c' }])
  })

  test('without an outbox the truing is what the book says', () => {
    const truing = { sets: [], moves: [], stale: false } as unknown as Truing
    expect(layTruing('j', truing)).toBe(truing)
    expect((truing as { last?: Measurement }).last).toBeUndefined()
  })
})

describe('what the line says', () => {
  const now = Date.parse('2026-11-24T09:00:00Z')

  test('counts of this hand alone, and what was not taken apart from what waits', () => {
    const mine = countOf([RECORD, { ...RECORD, seq: 2, state: 'parked' }, { ...RECORD, seq: 3, personId: 'other' }], 'p', now)
    expect(mine).toEqual({ waiting: 1, parked: 1, isOld: false })
    expect(waitingWords(mine)).toBe('Saved on this tablet, 1 waiting. 1 entry the book did not take.')
    expect(waitingWords({ waiting: 0, parked: 0, isOld: false })).toBe('')
    expect(countOf([RECORD], 'p', now + 25 * 3_600_000).isOld).toBe(true)
  })

  test('the file holds everything that is needed to enter it by hand or to send it', () => {
    const [row] = JSON.parse(asFile([RECORD])) as Record<string, unknown>[]
    expect(row).toMatchObject({ key: RECORD.key, route: RECORD.route, body: RECORD.body, occurredAt: RECORD.occurredAt, method: 'POST' })
  })
})

describe('read back aloud', () => {
  test('the sign in words, a half in words, and the figures of a width one by one', () => {
    const keyed = (digits: string, negative = false, half = false) => ({ digits, negative, half })
    expect(spoken(keyed('8'), 'dial')).toBe('8')
    expect(spoken(keyed('8', true, true), 'dial')).toBe('minus 8 and a half')
    expect(spoken(keyed('', true, true), 'dial')).toBe('minus a half')
    expect(spoken(keyed('0', true), 'dial')).toBe('0')
    expect(spoken(keyed('06'), 'tail')).toBe('0 6')
  })
})
