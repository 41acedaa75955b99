import { describe, expect, test } from 'vitest'
import type { JobFacts, PinFit } from '#core/gates/facts.ts'
import { MISSING_CODES, type MissingCode } from '#core/gates/missing.ts'
import { missingFor } from '#core/gates.ts'
import { JOB_KINDS, PATHS, type Step } from '#core/steps.ts'
import { at, LAST_MOVE, notRead, PARTED, PRESSED, readyJob, taken } from '#tests/core/gates/ready-job.ts'

// What each gate asks is common practice of the trade, no source.

function codes(to: Step, facts: JobFacts): MissingCode[] {
  return missingFor(to, facts).map((one) => one.code)
}

type Change = (facts: JobFacts) => Partial<JobFacts>

const goodFit = { interferenceMm: 0.109, verdict: 'go' as const, pinIsOfKit: true }
const goodEnd = { tirMm: 0.012, atStatedPlace: true, cold: true }
const fitOf = (side: 'left' | 'right', value: Partial<PinFit>, minute = 20): Change => {
  return (facts) => ({ fit: { ...facts.fit, [side]: taken({ ...goodFit, ...value }, minute) } })
}
const stands = (change: Partial<JobFacts['asItStands']>): Change => {
  return (facts) => ({ asItStands: { ...facts.asItStands, ...change } })
}
const end = (side: 'left' | 'right', value: Partial<typeof goodEnd>, minute = 102): Change => {
  return (facts) => stands({ runout: { ...facts.asItStands.runout, [side]: taken({ ...goodEnd, ...value }, minute) } })(facts)
}
const noEnd = (side: 'left' | 'right'): Change => {
  return (facts) => stands({ runout: { ...facts.asItStands.runout, [side]: null } })(facts)
}
const received = (change: Partial<JobFacts['received']>): Change => {
  return (facts) => ({ received: { ...facts.received, ...change } })
}
const parting = (change: Partial<NonNullable<JobFacts['parting']>>): Change => {
  return (facts) => ({ parting: { ...facts.parting!, ...change } })
}
const second = (change: Partial<NonNullable<JobFacts['secondSet']>>): Change => {
  return (facts) => ({ secondSet: { ...facts.secondSet!, ...change } })
}
const third = (left: number, right: number, minute = 115): JobFacts['thirdSet'] => ({
  takenAt: at(minute),
  tirMm: { left: taken(left, minute), right: taken(right, minute) },
})

/** Each line takes one thing away from a job whose gates are all open, and that one code has to come. */
const ONE_AT_A_TIME: [Step, MissingCode, Change][] = [
  ['measured', 'width-as-received', received({ width: null })],
  ['measured', 'width-as-received', received({ width: taken({ 0: 63.99, 180: 64.06 }, 1) })],
  ['measured', 'runout-left-as-received', received({ runout: { left: null, right: taken(0.21, 2) } })],
  ['measured', 'runout-right-as-received', received({ runout: { left: taken(0.19, 2), right: notRead('the stub is bent') } })],
  ['measured', 'big-end-play', received({ bigEndPlay: null })],
  ['agreed', 'quote', () => ({ quote: null })],
  ['agreed', 'yes', () => ({ quote: { version: 2, yes: null } })],
  ['agreed', 'yes-to-the-present-quote', () => ({ quote: { version: 2, yes: { version: 1, by: 'A. Hollis', how: 'link' } } })],
  ['agreed', 'yes-by-whom-and-how', () => ({ quote: { version: 2, yes: { version: 2, by: ' ', how: 'link' } } })],
  ['agreed', 'yes-by-whom-and-how', () => ({ quote: { version: 2, yes: { version: 2, by: 'A. Hollis', how: '' } } })],
  ['apart', 'peak-tonnage-left', parting({ peakTonnes: { left: null, right: taken(5, PARTED) } })],
  ['apart', 'peak-tonnage-right', parting({ peakTonnes: { left: taken(9.5, PARTED), right: notRead('the gauge stuck') } })],
  ['apart', 'look-at-bores', parting({ look: null })],
  ['apart', 'crack', parting({ look: { galling: false, crack: true } })],
  ['apart', 'web-marks', parting({ webMarks: null })],
  ['apart', 'web-marks', parting({ webMarks: '  ' })],
  ['together', 'kit-lot', () => ({ kitLot: null })],
  ['together', 'fit-left', (facts) => ({ fit: { ...facts.fit, left: null } })],
  ['together', 'fit-right', (facts) => ({ fit: { ...facts.fit, right: notRead('the bore gauge is away') } })],
  ['together', 'fit-left-older-than-parting', fitOf('left', {}, PARTED - 1)],
  ['together', 'fit-right-older-than-parting', fitOf('right', {}, PARTED)],
  ['together', 'fit-left-not-of-the-kit-pin', fitOf('left', { pinIsOfKit: false })],
  ['together', 'fit-right-not-of-the-kit-pin', fitOf('right', { pinIsOfKit: false })],
  ['together', 'fit-left-below-shop-floor', fitOf('left', { verdict: 'below-shop-floor' })],
  ['together', 'fit-right-below-shop-floor', fitOf('right', { verdict: 'below-shop-floor' })],
  ['together', 'fit-left-under-scrap-floor', fitOf('left', { verdict: 'stop' })],
  ['together', 'fit-right-under-scrap-floor', fitOf('right', { verdict: 'stop' })],
  ['together', 'oil-hole', () => ({ oilHole: null })],
  ['together', 'oil-hole-masked', () => ({ oilHole: 'masked' })],
  ['together', 'width', stands({ width: null })],
  ['together', 'width', stands({ width: taken({ 0: 64, 90: 64, 180: 64 }, 100) })],
  ['together', 'width-older-than-last-move', stands({ width: taken({ 0: 64, 90: 64, 180: 64, 270: 64 }, PRESSED - 1) })],
  ['together', 'width-window', (facts) => ({ windows: { ...facts.windows, width: null } })],
  ['together', 'width-out-of-window', stands({ width: taken({ 0: 64.06, 90: 64.06, 180: 64.06, 270: 64.06 }, 100) })],
  ['together', 'width-out-of-window', stands({ width: taken({ 0: 63.94, 90: 63.94, 180: 63.94, 270: 63.94 }, 100) })],
  ['together', 'side-clearance', stands({ sideClearance: null })],
  ['together', 'side-clearance-older-than-last-move', stands({ sideClearance: taken(0.36, PRESSED) })],
  ['together', 'side-clearance-window', (facts) => ({ windows: { ...facts.windows, sideClearance: null } })],
  ['together', 'side-clearance-out-of-window', stands({ sideClearance: taken(0.24, 101) })],
  ['together', 'side-clearance-out-of-window', stands({ sideClearance: taken(0.51, 101) })],
  ['trued', 'runout-left', noEnd('left')],
  ['trued', 'runout-right', noEnd('right')],
  ['trued', 'runout-left-older-than-last-move', end('left', {}, LAST_MOVE - 1)],
  ['trued', 'runout-right-older-than-last-move', end('right', {}, LAST_MOVE)],
  ['trued', 'runout-left-not-cold', (facts) => ({ weldedAt: at(80), ...end('left', { cold: false })(facts) })],
  ['trued', 'runout-right-not-cold', (facts) => ({ weldedAt: at(80), ...end('right', { cold: false })(facts) })],
  ['trued', 'runout-left-older-than-last-move', (facts) => ({ weldedAt: at(95), ...end('left', {}, 94)(facts) })],
  ['trued', 'runout-left-not-at-stated-place', end('left', { atStatedPlace: false })],
  ['trued', 'runout-right-not-at-stated-place', end('right', { atStatedPlace: false })],
  ['trued', 'house-limit-left', (facts) => ({ limits: { ...facts.limits, left: null } })],
  ['trued', 'house-limit-right', (facts) => ({ limits: { ...facts.limits, right: null } })],
  ['trued', 'runout-left-over-house', end('left', { tirMm: 0.031 })],
  ['trued', 'runout-right-over-house', end('right', { tirMm: 0.031 })],
  ['trued', 'runout-left-over-house-inside-maker', end('left', { tirMm: 0.021 })],
  ['trued', 'runout-right-over-house-inside-maker', end('right', { tirMm: 0.021 })],
  ['trued', 'width', stands({ width: notRead('the micrometer is away') })],
  ['trued', 'width-older-than-last-move', stands({ width: taken({ 0: 64, 90: 64, 180: 64, 270: 64 }, 89) })],
  ['trued', 'width-out-of-window', stands({ width: taken({ 0: 64.06, 90: 64.06, 180: 64.06, 270: 64.06 }, 100) })],
  ['trued', 'side-clearance', stands({ sideClearance: null })],
  ['trued', 'side-clearance-older-than-last-move', stands({ sideClearance: taken(0.36, 89) })],
  ['trued', 'side-clearance-out-of-window', stands({ sideClearance: taken(0.51, 101) })],
  ['signed', 'second-reading', () => ({ secondSet: null })],
  ['signed', 'second-reading-left', second({ tirMm: { left: null, right: taken(0.015, 110) } })],
  ['signed', 'second-reading-right', second({ tirMm: { left: taken(0.011, 110), right: notRead('dial 4 fell') } })],
  ['signed', 'second-reading-by-the-same-person', second({ byAnotherPerson: false })],
  ['signed', 'second-reading-saw-the-first', second({ firstHidden: false })],
  ['signed', 'second-reading-older-than-last-move', second({ takenAt: at(LAST_MOVE) })],
  ['signed', 'second-reading-over-house-left', second({ tirMm: { left: taken(0.021, 110), right: taken(0.015, 110) } })],
  ['signed', 'second-reading-over-house-right', second({ tirMm: { left: taken(0.011, 110), right: taken(0.0201, 110) } })],
  ['signed', 'readings-differ-left', second({ tirMm: { left: taken(0.0006, 110), right: taken(0.015, 110) } })],
  ['signed', 'readings-differ-right', second({ tirMm: { left: taken(0.011, 110), right: taken(0.0026, 110) } })],
  [
    'signed',
    'third-set-settles-nothing',
    (facts) => ({ ...second({ tirMm: { left: taken(0.05, 110), right: taken(0.015, 110) } })(facts), thirdSet: third(0.03, 0.03) }),
  ],
  ['signed', 'instrument-overdue', () => ({ overdueInstruments: ['dial 4'] })],
  ['signed', 'certificate', () => ({ certificate: null })],
  ['signed', 'certificate-older-than-readings', () => ({ certificate: { madeAt: at(109) } })],
  ['gone', 'box-list', () => ({ boxListChecked: false })],
  ['gone', 'paid', () => ({ paid: false })],
  ['gone', 'paid', () => ({ paid: false, ownersWord: ' ' })],
]

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

  test('every code of the closed list is reached by a line above', () => {
    const reached = new Set<MissingCode>([...ONE_AT_A_TIME.map(([, code]) => code), 'weld'])
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
    expect(pass.size).toBe(MISSING_CODES.length - 1)
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
      'The left end swings 0.04: over the maker’s limit. We allow 0.02, the maker allows 0.03.',
    )
    const noMaker = { ...facts, limits: { ...facts.limits, left: { houseMm: 0.02, makerMm: null } } }
    expect(missingFor('trued', noMaker)[0]?.detail).toBe('The left end swings 0.04: over our limit. We allow 0.02.')
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

  test('refuses a step off the path and a figure that is not a number', () => {
    expect(() => missingFor('apart', readyJob('true-only'))).toThrow(RangeError)
    expect(() => missingFor('trued', { ...readyJob(), ...end('left', { tirMm: Number.NaN })(readyJob()) })).toThrow(
      'missingFor needs figures that are numbers',
    )
  })
})
