import { describe, expect, test } from 'vitest'
import { JOB_KINDS, PATHS } from '#core/steps.ts'
import { type CrankForCustomer, foundSentences, headlineOf, moneySentences, waitingSentences } from '#core/your-crank.ts'

const crank = (change: Partial<CrankForCustomer> = {}): CrankForCustomer => ({
  kind: 'rebuild',
  state: 'apart',
  waiting: [],
  passes: [],
  ...change,
})

describe('the customer’s page in words', () => {
  test.each(JOB_KINDS.flatMap((kind) => PATHS[kind].map((state) => ({ kind, state }))))(
    '$kind at $state has one sentence that is true',
    ({ kind, state }) => {
      const says = headlineOf(crank({ kind, state }))
      expect(says).toMatch(/^You/)
      expect(says.endsWith('.')).toBe(true)
      if (kind === 'check-and-report') expect(says).not.toMatch(/apart|trued next|your yes/)
    },
  )

  test('says what it waits for and until when', () => {
    expect(waitingSentences(crank({ waiting: [{ what: 'kit', dueOn: '2026-11-26' }] }))).toEqual([
      'We wait for its rod kit, due 26 November 2026.',
    ])
    expect(waitingSentences(crank({ waiting: [{ what: 'yes' }], asked: { total: 'EUR 268.00', onDay: '2026-11-20' } }))).toEqual([
      'We wait for your yes to EUR 268.00, asked on 20 November 2026.',
    ])
    expect(waitingSentences(crank({ waiting: [{ what: 'outside', note: 'grinder' }] }))).toEqual(['It is out of the house (grinder).'])
  })

  test('says what was found, beside what is allowed, and what was let pass', () => {
    const received = { leftSwingMm: 0.19, rightSwingMm: 0.21, playMm: 0.06, playLimitMm: 0.05 }
    expect(foundSentences(crank({ received, houseLimitMm: 0.02, passes: ['Right web at 0.094, below our floor.'] }))).toEqual([
      'The big end has 0.06 mm of play where 0.05 is allowed.',
      'The shafts swung 0.19 and 0.21 mm; we send it home at 0.02 or less.',
      'Right web at 0.094, below our floor. The owner let it pass, and your certificate will say so.',
    ])
    expect(foundSentences(crank())).toEqual([])
  })

  test('says what is to pay only when it is ready', () => {
    const agreed = { total: 'EUR 412.00', onDay: '2026-11-23' }
    expect(moneySentences(crank({ agreed, owes: 'EUR 312.00' }))).toEqual(['You said yes to EUR 412.00 with tax on 23 November 2026.'])
    expect(moneySentences(crank({ state: 'signed', agreed, owes: 'EUR 312.00' }))[1]).toBe('EUR 312.00 is to pay when it goes.')
  })
})
