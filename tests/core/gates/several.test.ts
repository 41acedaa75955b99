import { describe, expect, test } from 'vitest'
import { missingFor } from '#core/gates.ts'
import { decideMove } from '#core/step-moves.ts'
import { JOB_KINDS, PATHS } from '#core/steps.ts'
import { at, readyJob, taken } from '#tests/core/gates/ready-job.ts'
import { fitOf, parting, stands } from '#tests/core/gates/taken-away.ts'
import { OF_SEVERAL, readyTwin, secondThrow } from '#tests/core/gates/two-throws.ts'

// What is asked of a crank with several throws is common practice of the trade, no source.

describe('a twin with everything in place', () => {
  test.each(JOB_KINDS.flatMap((kind) => PATHS[kind].map((step) => [kind, step] as const)))(
    '%s lacks nothing to be called %s',
    (kind, step) => {
      expect(missingFor(step, readyTwin(kind))).toEqual([])
    },
  )
})

describe('one thing taken away that only such a crank has', () => {
  test.each(OF_SEVERAL)('%s lacks %s', (step, code, changes) => {
    const missing = missingFor(step, readyTwin('rebuild', changes))
    expect(missing.map((one) => [one.code, one.pass])).toEqual([[code, 'owner']])
  })

  test('and at signing the same is asked again', () => {
    for (const [step, code, changes] of OF_SEVERAL)
      if (step === 'trued') expect(missingFor('signed', readyTwin('rebuild', changes)).map((one) => one.code)).toEqual([code])
  })

  test('says how far a throw stands off, and from where', () => {
    const phase = [{ joint: 'throw-2', nominalDeg: 180, read: taken(180.8, 104) }] as const
    const [missing] = missingFor('trued', readyTwin('rebuild', { phase }))
    expect(missing).toMatchObject({
      joint: 'throw-2',
      detail: 'Throw 2: it stands 0.8° past its 180°, allowed 0.5° either way.',
      since: at(104),
    })
  })

  test('a report asks for no angle and no limit of the middle', () => {
    const away = { phase: [], middle: [{ joint: 'centre-1', read: taken(0.3, 105) }] } as const
    expect(missingFor('signed', readyTwin('check-and-report', away))).toEqual([])
  })
})

describe('each throw by itself', () => {
  test('what one throw lacks is said of that throw alone', () => {
    const missing = missingFor('trued', secondThrow(stands({ width: null, sideClearance: taken(0.2, 101) })))
    expect(missing.map(({ code, joint, detail }) => [joint, code, detail])).toEqual([
      ['throw-2', 'width', 'Throw 2: the width over webs is not read yet.'],
      ['throw-2', 'side-clearance-out-of-window', 'Throw 2: the side clearance of the rod is 0.2, allowed 0.25 to 0.5.'],
    ])
  })

  test('a fit under the scrap floor at one throw stops every later gate, and nobody lets it pass', () => {
    const twin = secondThrow(fitOf('left', { verdict: 'stop', interferenceMm: 0.05 }))
    for (const step of ['together', 'trued', 'signed', 'gone'] as const)
      expect(missingFor(step, twin)).toMatchObject([{ code: 'fit-left-under-scrap-floor', joint: 'throw-2', pass: 'never' }])
  })

  test('a crack at the middle stops it like one at a throw', () => {
    const cracked = parting({ look: { galling: false, crack: true } })(readyJob()).parting!
    const twin = readyTwin('rebuild', { centres: [{ joint: 'centre-1', parting: cracked }] })
    for (const step of ['apart', 'together', 'trued', 'signed', 'gone'] as const)
      expect(missingFor(step, twin)).toMatchObject([{ code: 'crack', joint: 'centre-1', pass: 'never' }])
  })

  test('the middle is parted with its own peaks', () => {
    const twin = readyTwin('rebuild', { centres: [{ joint: 'centre-1', parting: null }] })
    expect(missingFor('apart', twin).map((one) => `${one.joint} ${one.code}`)).toEqual([
      'centre-1 peak-tonnage-left',
      'centre-1 peak-tonnage-right',
      'centre-1 look-at-bores',
      'centre-1 web-marks',
    ])
  })

  test('a newer reading of a joint makes the sheet old once, not once a throw', () => {
    const missing = missingFor('signed', readyTwin('rebuild', { readAt: at(130) }))
    expect(missing.map(({ code, joint }) => [code, joint])).toEqual([['certificate-older-than-readings', undefined]])
  })
})

describe('what the owner lets pass', () => {
  const twin = secondThrow(stands({ width: null }))
  const pass = { code: 'width', reason: 'the micrometer is at the maker’s', at: at(200) } as const
  const move = (joint?: 'throw-1' | 'throw-2') =>
    decideMove({ from: 'together', to: 'trued', facts: twin, passes: [{ ...pass, ...(joint === undefined ? {} : { joint }) }] })

  test('counts at its own joint, and at no other', () => {
    expect(move('throw-2').ok).toBe(true)
    expect(move('throw-1').ok).toBe(false)
    expect(move().ok).toBe(false)
  })
})
