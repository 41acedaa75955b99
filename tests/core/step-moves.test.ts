import { describe, expect, test } from 'vitest'
import type { MissingCode } from '#core/gates/missing.ts'
import { decideMove, stepAfterWelding, stepBack } from '#core/step-moves.ts'
import { ENDS, JOB_KINDS, type JobKind, type JobState, STEPS } from '#core/steps.ts'
import { at, readyJob, taken } from '#tests/core/gates/ready-job.ts'

const STATES: readonly JobState[] = [...STEPS, ...ENDS]

/** Every legal move, written out by hand and apart from the table under test. */
const LEGAL: Record<JobKind, string[]> = {
  rebuild: [
    'booked>measured',
    'measured>agreed',
    'agreed>apart',
    'apart>together',
    'together>trued',
    'trued>signed',
    'signed>gone',
    'booked>given-back',
    'measured>given-back',
    'agreed>given-back',
    'apart>given-back',
    'together>given-back',
    'trued>given-back',
    'signed>given-back',
    'booked>scrapped',
    'measured>scrapped',
    'agreed>scrapped',
    'apart>scrapped',
    'together>scrapped',
    'trued>scrapped',
  ],
  'true-only': withoutParting(),
  'weld-only': withoutParting(),
  'check-and-report': [
    'booked>measured',
    'measured>signed',
    'signed>gone',
    'booked>given-back',
    'measured>given-back',
    'signed>given-back',
    'booked>scrapped',
    'measured>scrapped',
  ],
}

function withoutParting(): string[] {
  const forward = ['booked>measured', 'measured>agreed', 'agreed>trued', 'trued>signed', 'signed>gone']
  const givenBack = ['booked', 'measured', 'agreed', 'trued', 'signed'].map((step) => `${step}>given-back`)
  const scrapped = ['booked', 'measured', 'agreed', 'trued'].map((step) => `${step}>scrapped`)
  return [...forward, ...givenBack, ...scrapped]
}

/** A step of another kind of job is no place to stand: that is misuse. */
const CANNOT_STAND: Record<JobKind, string[]> = {
  rebuild: [],
  'true-only': ['apart', 'together'],
  'weld-only': ['apart', 'together'],
  'check-and-report': ['agreed', 'apart', 'together', 'trued'],
}

const CELLS = JOB_KINDS.flatMap((kind) => STATES.flatMap((from) => STATES.map((to) => [kind, from, to] as const)))

describe('every cell of the table', () => {
  test.each(CELLS)('%s from %s to %s', (kind, from, to) => {
    const move = () => decideMove({ from, to, facts: readyJob(kind), passes: [] })
    if (CANNOT_STAND[kind].includes(from)) return expect(move).toThrow(RangeError)
    const isLegal = LEGAL[kind].includes(`${from}>${to}`)
    const decision = move()
    expect(decision.ok).toBe(isLegal)
    if (!decision.ok) expect(decision.reason).toBe('not-on-the-path')
  })

  test('there are 400 of them and 20 + 14 + 14 + 8 are open', () => {
    const open = CELLS.filter(([kind, from, to]) => {
      return !CANNOT_STAND[kind].includes(from) && decideMove({ from, to, facts: readyJob(kind), passes: [] }).ok
    })
    expect([CELLS.length, open.length]).toEqual([400, 56])
  })

  test('a refused move says what comes next', () => {
    expect(decideMove({ from: 'booked', to: 'apart', facts: readyJob(), passes: [] })).toEqual({
      ok: false,
      reason: 'not-on-the-path',
      detail: 'It is booked: next comes measured, not apart.',
    })
  })
})

describe('a gate that is not met', () => {
  const facts = readyJob('rebuild', { kitLot: null, oilHole: null })
  const move = (passes: Parameters<typeof decideMove>[0]['passes']) => decideMove({ from: 'apart', to: 'together', facts, passes })
  const pass = (code: MissingCode, reason = 'told the customer', minute = 50) => ({ code, reason, at: at(minute) })

  test('lists all that is missing', () => {
    const decision = move([])
    expect(decision).toMatchObject({ ok: false, reason: 'gate-not-met', detail: 'Not together yet: 2 missing.' })
    expect('missing' in decision && decision.missing.map((one) => one.code)).toEqual(['kit-lot', 'oil-hole'])
  })

  test('a pass takes away its own code and no other', () => {
    const decision = move([pass('kit-lot')])
    expect('missing' in decision && decision.missing.map((one) => one.code)).toEqual(['oil-hole'])
  })

  test('with a pass for each it opens, and says what was let pass', () => {
    const decision = move([pass('kit-lot'), pass('oil-hole')])
    expect(decision.ok && decision.passed.map((one) => one.code)).toEqual(['kit-lot', 'oil-hole'])
  })

  test('a pass without a reason does not count', () => {
    expect(move([pass('kit-lot', '  '), pass('oil-hole')]).ok).toBe(false)
  })

  test('a pass older than the figure that it excuses was given for another one', () => {
    const low = { interferenceMm: 0.094, verdict: 'below-shop-floor' as const, pinIsOfKit: true }
    const loose = readyJob('rebuild', { fit: { left: taken(low, 20), right: taken({ ...low, interferenceMm: 0.12, verdict: 'go' }, 20) } })
    const given = (minute: number) => {
      return decideMove({ from: 'apart', to: 'together', facts: loose, passes: [pass('fit-left-below-shop-floor', 'told him', minute)] }).ok
    }
    expect([given(19), given(20), given(21)]).toEqual([false, true, true])
  })

  test('what was let pass for truing is let pass for signing by the same word', () => {
    const over = readyJob('rebuild')
    const left = taken({ tirMm: 0.024, atStatedPlace: true, cold: true }, 102)
    const high = { ...over, asItStands: { ...over.asItStands, runout: { ...over.asItStands.runout, left } } }
    const passes = [pass('runout-left-over-house-inside-maker', 'old webs, told him', 104)]
    expect(decideMove({ from: 'together', to: 'trued', facts: high, passes }).ok).toBe(true)
    const signing = decideMove({ from: 'trued', to: 'signed', facts: high, passes })
    expect('missing' in signing && signing.missing.map((one) => one.code)).toEqual(['readings-differ-left'])
  })

  test.each([
    ['crack', 'agreed', 'apart', { parting: { ...readyJob().parting!, look: { galling: false, crack: true } } }],
    ['oil-hole-masked', 'apart', 'together', { oilHole: 'masked' as const }],
    [
      'fit-left-under-scrap-floor',
      'apart',
      'together',
      { fit: { ...readyJob().fit, left: taken({ interferenceMm: 0.07, verdict: 'stop' as const, pinIsOfKit: true }, 20) } },
    ],
  ] as const)('nobody lets %s pass', (code, from, to, changes) => {
    const decision = decideMove({ from, to, facts: readyJob('rebuild', changes), passes: [pass(code, 'the customer insists', 200)] })
    expect('missing' in decision && decision.missing.map((one) => one.code)).toEqual([code])
  })
})

describe('a step back', () => {
  const back = (kind: JobKind, from: JobState, to: (typeof STEPS)[number], endedFrom: (typeof STEPS)[number] | null = null) => {
    return stepBack({ kind, from, to, reason: 'right web let go', endedFrom })
  }

  const cells = JOB_KINDS.flatMap((kind) => STATES.flatMap((from) => STEPS.map((to) => [kind, from, to] as const)))

  test.each(cells)('%s from %s to %s', (kind, from, to) => {
    const path: readonly JobState[] = STEPS.filter((step) => !CANNOT_STAND[kind].includes(step))
    const isEarlier = path.includes(to) && path.indexOf(to) < path.indexOf(from)
    expect(back(kind, from, to).ok).toBe(isEarlier)
  })

  test('needs a reason', () => {
    expect(stepBack({ kind: 'rebuild', from: 'trued', to: 'together', reason: ' ', endedFrom: null })).toMatchObject({
      ok: false,
      reason: 'needs-a-reason',
    })
  })

  test('a job scrapped by mistake comes back to where it stood, and no further on', () => {
    expect(back('rebuild', 'scrapped', 'apart', 'apart').ok).toBe(true)
    expect(back('rebuild', 'scrapped', 'booked', 'apart').ok).toBe(true)
    expect(back('rebuild', 'scrapped', 'together', 'apart').ok).toBe(false)
    expect(back('rebuild', 'given-back', 'booked', null).ok).toBe(false)
  })
})

describe('welding', () => {
  test.each([
    ['rebuild', 'trued', 'together'],
    ['rebuild', 'signed', 'together'],
    ['rebuild', 'together', 'together'],
    ['rebuild', 'gone', 'gone'],
    ['weld-only', 'trued', 'agreed'],
    ['true-only', 'signed', 'agreed'],
    ['weld-only', 'agreed', 'agreed'],
  ] as const)('%s at %s stands at %s after it', (kind, before, after) => {
    expect(stepAfterWelding(kind, before)).toBe(after)
  })

  test('a report has no truing to take back', () => {
    expect(() => stepAfterWelding('check-and-report', 'measured')).toThrow(RangeError)
  })
})
