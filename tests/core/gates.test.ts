import { describe, expect, test } from 'vitest'
import type { JobFacts } from '#core/gates/facts.ts'
import { MISSING_CODES, type MissingCode } from '#core/gates/missing.ts'
import { missingFor } from '#core/gates.ts'
import { JOB_KINDS, PATHS, type Step } from '#core/steps.ts'
import { at, LAST_MOVE, notRead, PARTED, readyJob, taken } from '#tests/core/gates/ready-job.ts'
import { end, fitOf, ONE_AT_A_TIME, parting, received, second, stands, third } from '#tests/core/gates/taken-away.ts'
import { OF_SEVERAL } from '#tests/core/gates/two-throws.ts'

// What each gate asks is common practice of the trade, no source.

function codes(to: Step, facts: JobFacts): MissingCode[] {
  return missingFor(to, facts).map((one) => one.code)
}

describe('a job with everything in place', () => {
  test.each(JOB_KINDS.flatMap((kind) => PATHS[kind].map((step) => [kind, step] as const)))(
    '%s lacks nothing to be called %s',
    (kind, step) => {
      expect(codes(step, readyJob(kind))).toEqual([])
    },
  )
})

describe('one thing taken away', () => {
  test.each(ONE_AT_A_TIME)('%s lacks %s', (step, code, change) => {
    const facts = readyJob()
    expect(codes(step, { ...facts, ...change(facts) })).toEqual([code])
  })

  test('a weld-only job lacks its weld', () => {
    expect(codes('trued', readyJob('weld-only', { weldedAt: null }))).toEqual(['weld'])
  })

  test('every code of the closed list is reached by a line above, or by one of several throws', () => {
    const reached = new Set<MissingCode>([...ONE_AT_A_TIME, ...OF_SEVERAL].map(([, code]) => code)).add('weld')
    expect(MISSING_CODES.filter((code) => !reached.has(code))).toEqual([])
  })
})

describe('who may let it pass', () => {
  test('a crack, a fit under the scrap floor and a masked oil hole: nobody; all else: the owner', () => {
    const pass = new Map<MissingCode, string>()
    for (const [step, , change] of ONE_AT_A_TIME) {
      const facts = readyJob()
      for (const one of missingFor(step, { ...facts, ...change(facts) })) pass.set(one.code, one.pass)
    }
    const never = [...pass].filter(([, who]) => who === 'never').map(([code]) => code)
    expect(never.sort()).toEqual(['crack', 'fit-left-under-scrap-floor', 'fit-right-under-scrap-floor', 'oil-hole-masked'])
    expect(pass.size).toBe(MISSING_CODES.length - 1 - OF_SEVERAL.length)
  })

  test.each(['trued', 'signed', 'gone'] as const)('each of the three still stops the job at %s', (step) => {
    const facts = readyJob()
    expect(codes(step, { ...facts, ...parting({ look: { galling: false, crack: true } })(facts) })).toEqual(['crack'])
    expect(codes(step, { ...facts, ...fitOf('right', { verdict: 'stop' })(facts) })).toEqual(['fit-right-under-scrap-floor'])
    expect(codes(step, { ...facts, oilHole: 'masked' })).toEqual(['oil-hole-masked'])
  })

  test('galling is written down and stops nothing by itself', () => {
    const facts = readyJob()
    expect(codes('apart', { ...facts, ...parting({ look: { galling: true, crack: false } })(facts) })).toEqual([])
  })
})

describe('what is said', () => {
  test('a figure not read says why, and the owner may let it pass', () => {
    const facts = readyJob()
    expect(missingFor('together', { ...facts, fit: { ...facts.fit, right: notRead('the bore gauge is away') } })).toEqual([
      {
        code: 'fit-right',
        detail: 'The fit of the pin in the right web was not read, because the bore gauge is away.',
        pass: 'owner',
        since: at(PARTED),
      },
    ])
  })

  test('a place of the width that is left out is named', () => {
    const facts = readyJob()
    const list = missingFor('measured', { ...facts, ...received({ width: taken({ 0: 63.99, 180: 64.06 }, 1) })(facts) })
    expect(list[0]?.detail).toBe('The width as received is not read at 90, 270°.')
  })

  test('inside the maker’s limit and over ours has its own words', () => {
    const facts = readyJob()
    const list = missingFor('trued', { ...facts, ...end('left', { tirMm: 0.024 })(facts) })
    expect(list[0]?.detail).toBe('The left end swings 0.024: over our limit, inside the maker’s. We allow 0.02, the maker allows 0.03.')
  })

  test('over both limits names the maker’s; where the maker gives none it is not named', () => {
    const facts = { ...readyJob(), ...end('left', { tirMm: 0.04 })(readyJob()) }
    expect(missingFor('trued', facts)[0]?.detail).toBe(
      'The left end swings 0.040: over the maker’s limit. We allow 0.02, the maker allows 0.03.',
    )
    const noMaker = { ...facts, limits: { ...facts.limits, left: { houseMm: 0.02, makerMm: null } } }
    expect(missingFor('trued', noMaker)[0]?.detail).toBe('The left end swings 0.040: over our limit. We allow 0.02.')
  })

  test('an old pin too loose asks for the pin of the kit, a kit pin too loose for another half', () => {
    const facts = readyJob()
    const old = missingFor('together', { ...facts, ...fitOf('left', { verdict: 'stop', pinIsOfKit: false, interferenceMm: 0.07 })(facts) })
    expect(old.find((one) => one.pass === 'never')?.detail).toContain('at 0.07, under the scrap floor of 0.077: measure the pin of the kit')
    const kit = missingFor('together', { ...facts, ...fitOf('left', { verdict: 'stop' })(facts) })
    expect(kit[0]?.detail).toContain('another half, or scrap it')
  })
})

describe('edges', () => {
  test('a reading exactly at the limit of the house, and a width exactly at its window, are inside', () => {
    const facts = readyJob('rebuild', { secondSet: null })
    const atLimit = { ...facts, ...end('left', { tirMm: 0.02 })(facts) }
    expect(codes('trued', atLimit)).toEqual([])
    // The mean of these four comes out at 64.05 and a last binary digit.
    expect(
      codes('together', { ...facts, ...stands({ width: taken({ 0: 64.01, 90: 64.01, 180: 64.08, 270: 64.1 }, 100) })(facts) }),
    ).toEqual([])
  })

  test('no knock, no big-end play asked', () => {
    const facts = readyJob('rebuild', { whyNow: 'hours-up' })
    expect(codes('measured', { ...facts, ...received({ bigEndPlay: null })(facts) })).toEqual([])
  })

  test('a crank that needed no blow is true all the same, once all is read', () => {
    expect(codes('trued', readyJob('true-only', { lastMoveAt: null }))).toEqual([])
  })

  test('pressing again makes an older width stale, parting again an older fit as well', () => {
    expect(codes('together', readyJob('rebuild', { lastPressingAt: at(105) }))).toEqual([
      'width-older-than-last-move',
      'side-clearance-older-than-last-move',
    ])
    const facts = readyJob()
    expect(codes('together', { ...facts, ...parting({ at: at(130) })(facts) })).toEqual([
      'fit-left-older-than-parting',
      'fit-right-older-than-parting',
      'width-older-than-last-move',
      'side-clearance-older-than-last-move',
    ])
  })

  test('a blow after it was called true is caught at signing, and so is the second reading before it', () => {
    expect(codes('signed', readyJob('rebuild', { lastMoveAt: at(115) }))).toEqual([
      'runout-left-older-than-last-move',
      'runout-right-older-than-last-move',
      'width-older-than-last-move',
      'side-clearance-older-than-last-move',
      'second-reading-older-than-last-move',
    ])
    expect(codes('signed', readyJob('rebuild', { lastMoveAt: at(125) }))).toContain('certificate-older-than-readings')
  })

  test('without a weld a warm reading is not asked again', () => {
    const facts = readyJob()
    expect(codes('trued', { ...facts, ...end('left', { cold: false })(facts) })).toEqual([])
  })

  test('the same person may check where the shop says so', () => {
    const facts = readyJob('rebuild', { settings: { samePersonMayCheck: true } })
    expect(codes('signed', { ...facts, ...second({ byAnotherPerson: false })(facts) })).toEqual([])
  })

  test('a third set that agrees opens the gate, and a third set from before the last blow does not count', () => {
    const facts = readyJob()
    const apart = { ...facts, ...second({ tirMm: { left: taken(0.0006, 110), right: taken(0.015, 110) } })(facts) }
    expect(codes('signed', { ...apart, thirdSet: third(0.013, 0.013) })).toEqual([])
    expect(codes('signed', { ...apart, thirdSet: third(0.013, 0.013, LAST_MOVE) })).toEqual(['readings-differ-left'])
  })

  test('a certificate made before any newer reading is not of it', () => {
    const facts = readyJob()
    const width = { ...facts, ...stands({ width: taken({ 0: 64, 90: 64, 180: 64, 270: 64 }, 121) })(facts) }
    expect(codes('signed', width)).toEqual(['certificate-older-than-readings'])
    const differing = { ...facts, ...second({ tirMm: { left: taken(0.0006, 110), right: taken(0.015, 110) } })(facts) }
    expect(codes('signed', { ...differing, thirdSet: third(0.013, 0.013, 121) })).toEqual(['certificate-older-than-readings'])
  })

  test('one end not read a second time does not hide that the other differs', () => {
    const facts = readyJob()
    expect(codes('signed', { ...facts, ...second({ tirMm: { left: null, right: taken(0.0026, 110) } })(facts) })).toEqual([
      'second-reading-left',
      'readings-differ-right',
    ])
  })

  test('a certificate made at the instant of the newest reading is made of it', () => {
    expect(codes('signed', readyJob('rebuild', { certificate: { madeAt: at(110) } }))).toEqual([])
  })

  test('the word of the owner stands in for the money', () => {
    expect(codes('gone', readyJob('rebuild', { paid: false, ownersWord: 'pays on Friday, known for years' }))).toEqual([])
  })

  test('a report meets no limit and needs its ends as received, a second reading and its paper', () => {
    expect(codes('signed', readyJob('check-and-report'))).toEqual([])
    const facts = readyJob('check-and-report', { certificate: null })
    const bare = { ...facts, ...received({ runout: { left: null, right: null } })(facts) }
    expect(codes('signed', bare)).toEqual(['runout-left-as-received', 'runout-right-as-received', 'certificate'])
    expect(missingFor('signed', bare)[2]?.detail).toBe('The report of runout is not made yet.')
  })

  test('a report may be signed of a crank that no other job would go on with', () => {
    expect(codes('signed', readyJob('check-and-report', { oilHole: 'masked' }))).toEqual([])
    expect(codes('signed', readyJob('true-only', { oilHole: 'masked' }))).toEqual(['oil-hole-masked'])
  })

  test('refuses a step off the path and a figure that is not a number', () => {
    expect(() => missingFor('apart', readyJob('true-only'))).toThrow(RangeError)
    expect(() => missingFor('trued', { ...readyJob(), ...end('left', { tirMm: Number.NaN })(readyJob()) })).toThrow(
      'missingFor needs figures that are numbers',
    )
  })
})
