import { describe, expect, test } from 'vitest'
import { type LateJob, waitWords, whyLate } from '#core/office-late.ts'
import { shortDay } from '#core/short-day.ts'

const TODAY = '2026-11-24'
const job: LateJob = {
  kind: 'rebuild',
  step: 'apart',
  stepOn: '2026-11-20',
  waits: [],
  pressedApart: { left: 1, right: 1 },
  stepsBack: [],
  lastPass: null,
  holder: null,
}

describe('whyLate', () => {
  test('with nothing else to say, where it stands since when, and that nobody has it', () => {
    expect(whyLate(job, TODAY)).toEqual(['apart since Fri 20 Nov, to press together, nobody has it'])
    expect(whyLate({ ...job, holder: 'Jonas', step: 'trued' }, TODAY)).toEqual(['true since Fri 20 Nov, second check, Jonas has it'])
  })

  test('the weightiest first: what it waits for, a web pressed apart twice, steps back, what was let pass', () => {
    const reasons = whyLate(
      {
        ...job,
        waits: [{ what: 'kit', note: 'pin on order', sinceOn: '2026-11-09', dueOn: '2026-11-26' }],
        pressedApart: { left: 1, right: 2 },
        stepsBack: ['Back from true to together: the right web let go again.'],
        lastPass: 'The peak of the gauge when the left web let go was not read.',
      },
      TODAY,
    )
    expect(reasons).toEqual([
      'waiting for kit (pin on order), since Mon 9 Nov, due Thu 26 Nov',
      'right web pressed apart twice',
      'back from true to together: the right web let go again',
      'let pass: The peak of the gauge when the left web let go was not read',
      'apart since Fri 20 Nov, to press together, nobody has it',
    ])
    expect(
      whyLate({ ...job, pressedApart: { left: 3, right: 0 }, stepsBack: ['A', 'Back from true to apart: b'] }, TODAY).slice(0, 2),
    ).toEqual(['left web pressed apart 3 times', 'taken back twice, last back from true to apart: b'])
  })

  test('a wait that is due today is due, and one that was due before was', () => {
    const wait = { what: 'yes', sinceOn: '2025-12-30' } as const
    expect(waitWords({ ...wait, dueOn: TODAY }, TODAY)).toBe('waiting for a yes, since Tue 30 Dec 2025, due Tue 24 Nov')
    expect(waitWords({ ...wait, dueOn: '2026-11-23' }, TODAY)).toBe('waiting for a yes, since Tue 30 Dec 2025, was due Mon 23 Nov')
  })
})

test('shortDay refuses days that do not exist', () => {
  expect(() => shortDay('2026-11-31', TODAY)).toThrow('shortDay needs calendar dates that exist')
})
