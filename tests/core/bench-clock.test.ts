import { describe, expect, test } from 'vitest'
import { benchStretches, decideCorrection, jobHours, type Stamp } from '#core/bench-clock.ts'

const on = (time: string, day = '24') => `2026-11-${day}T${time}:00Z`
const CLOSINGS = [on('17:00'), on('17:00', '25'), on('17:00', '26')]
const NEXT_MORNING = on('07:40', '25')

function stamp(id: string, start: string, stop: string | null, changes: Partial<Stamp> = {}): Stamp {
  return { id, personId: 'marek', jobId: '318', step: 'trued', startedAt: start, stoppedAt: stop, correction: null, ...changes }
}

function corrected(start: string, stop: string): Pick<Stamp, 'correction'> {
  return { correction: { startedAt: start, stoppedAt: stop, by: 'ewa', reason: 'forgot to stop' } }
}

function stretches(stamps: Stamp[], now = NEXT_MORNING, closings: string[] = CLOSINGS) {
  return benchStretches(stamps, { now, closings })
}

const ALL_OF_318 = { jobId: '318', from: null, until: null }

describe('a day at the bench, worked', () => {
  // 08:00-08:45 measuring 318; 09:00 pressing 318, and at 10:30 the clock goes to 319 without a stop; 16:50 truing 318,
  // never stopped. The owner puts the pressing right to start at 09:15. 0.75 + 1.25 + (17:00 − 16:50 = 1/6) h.
  const day = [
    stamp('a', on('08:00'), on('08:45'), { step: 'measured' }),
    stamp('c', on('10:30'), on('12:00'), { jobId: '319' }),
    stamp('b', on('09:00'), null, { step: 'together', ...corrected(on('09:15'), on('10:30')) }),
    stamp('d', on('16:50'), null),
  ]

  test('how each stretch ended', () => {
    expect(stretches(day).map(({ stampId, ended }) => `${stampId} ${ended}`)).toEqual([
      'a stopped',
      'b corrected',
      'c stopped',
      'd stopped-at-closing',
    ])
  })

  test('hours by step and person', () => {
    const hours = jobHours(stretches(day), ALL_OF_318)
    expect(hours.hours).toBeCloseTo(0.75 + 1.25 + 1 / 6, 12)
    expect(hours.byStep.measured).toBeCloseTo(0.75, 12)
    expect(hours.byStep.together).toBeCloseTo(1.25, 12)
    expect(hours.byStep.trued).toBeCloseTo(1 / 6, 12)
    expect(hours.byPerson.marek).toBeCloseTo(hours.hours, 12)
    expect([hours.corrected, hours.stoppedAtClosing, hours.isRunning]).toEqual([1, 1, false])
    expect(jobHours(stretches(day), { ...ALL_OF_318, jobId: '319' }).hours).toBe(1.5)
  })
})

describe('one running clock a person', () => {
  test('a later start stops the earlier, on whatever job', () => {
    const [first, second] = stretches([stamp('a', on('08:00'), null), stamp('b', on('09:00'), null, { jobId: '319' })], on('09:30'))
    expect(first).toMatchObject({ until: on('09:00'), ended: 'stopped' })
    expect(second).toMatchObject({ until: on('09:30'), ended: 'running' })
  })

  test('a stop that comes after the next start does not count twice', () => {
    const both = stretches([stamp('a', on('08:00'), on('10:00')), stamp('b', on('09:00'), on('10:00'))])
    expect(jobHours(both, ALL_OF_318).hours).toBe(2)
  })

  test('a tablet that runs ahead starts a clock after now: running, and nothing on it yet', () => {
    const ahead = stretches([stamp('a', on('10:00'), null)], on('09:59'))
    expect(jobHours(ahead, ALL_OF_318)).toMatchObject({ hours: 0, isRunning: true })
  })

  test('two persons run side by side', () => {
    const both = stretches([stamp('a', on('08:00'), on('10:00')), stamp('b', on('09:00'), on('10:00'), { personId: 'jonas' })])
    expect(jobHours(both, ALL_OF_318)).toMatchObject({ hours: 3, byPerson: { marek: 2, jonas: 1 } })
  })

  test('the order in which stamps arrive does not matter', () => {
    const stamps = [
      stamp('a', on('08:00'), null),
      stamp('b', on('09:00'), on('09:20')),
      stamp('c', on('11:00'), null),
      stamp('d', on('11:00'), null),
    ]
    expect(stretches([...stamps].reverse())).toEqual(stretches(stamps))
  })
})

describe('closing time', () => {
  test('a clock still running before it runs on; past it, it stops there', () => {
    const running = [stamp('a', on('16:00'), null)]
    expect(stretches(running, on('16:59'))[0]).toMatchObject({ until: on('16:59'), ended: 'running' })
    expect(stretches(running, on('17:00'))[0]).toMatchObject({ until: on('17:00'), ended: 'running' })
    expect(stretches(running, on('17:01'))[0]).toMatchObject({ until: on('17:00'), ended: 'stopped-at-closing' })
  })

  test('a stop next morning does not make a night of work; the first start then does not either', () => {
    expect(stretches([stamp('a', on('16:00'), NEXT_MORNING)])[0]).toMatchObject({ until: on('17:00'), ended: 'stopped-at-closing' })
    const forgotten = stretches([stamp('a', on('16:00'), null), stamp('b', on('07:30', '25'), null)])
    expect(forgotten[0]).toMatchObject({ until: on('17:00'), ended: 'stopped-at-closing' })
  })

  test('a correction overrides it', () => {
    expect(stretches([stamp('a', on('16:00'), null, corrected(on('16:00'), on('18:30')))])[0]).toMatchObject({
      until: on('18:30'),
      ended: 'corrected',
    })
  })

  test('work begun after closing runs to the next one', () => {
    const evening = stretches([stamp('a', on('18:00'), on('19:00')), stamp('b', on('20:00'), null)], on('07:40', '26'))
    expect(evening[0]).toMatchObject({ until: on('19:00'), ended: 'stopped' })
    expect(evening[1]).toMatchObject({ until: on('17:00', '25'), ended: 'stopped-at-closing' })
  })

  test('closings may come in any order', () => {
    const forgotten = stretches([stamp('a', on('16:00'), null)], on('07:40', '26'), [...CLOSINGS].reverse())
    expect(forgotten[0]).toMatchObject({ until: on('17:00'), ended: 'stopped-at-closing' })
  })

  test('the night when the clocks go back has an hour more, and nothing special', () => {
    // 25 October 2026, Central Europe: 00:30 UTC and 01:30 UTC both show 02:30 on the wall.
    const night = stretches([stamp('a', '2026-10-25T00:30:00Z', '2026-10-25T01:30:00Z')], '2026-10-25T08:00:00Z', [])
    expect(jobHours(night, ALL_OF_318).hours).toBe(1)
  })
})

describe('hours between two instants', () => {
  const day = stretches([stamp('a', on('08:00'), on('10:00')), stamp('b', on('11:00'), on('12:00'), { personId: 'jonas' })])

  test('cuts what goes over', () => {
    expect(jobHours(day, { jobId: '318', from: null, until: on('09:00') })).toMatchObject({ hours: 1, byPerson: { marek: 1 } })
    expect(jobHours(day, { jobId: '318', from: on('09:30'), until: on('11:15') }).hours).toBe(0.75)
    expect(jobHours(day, { jobId: '318', from: on('13:00'), until: null })).toMatchObject({ hours: 0, byPerson: {} })
  })

  test('a job nobody clocked has none', () => {
    expect(jobHours(day, { ...ALL_OF_318, jobId: '999' }).hours).toBe(0)
  })
})

describe('putting hours right', () => {
  const others = stretches([stamp('b', on('10:00'), on('11:00'))])
  const decide = (start: string, stop: string, reason = 'forgot to stop') => {
    return decideCorrection({ startedAt: start, stoppedAt: stop, by: 'ewa', reason }, { now: NEXT_MORNING, others })
  }

  test('with a reason, in order, in the past, over no other work of that person', () => {
    expect(decide(on('08:00'), on('10:00'))).toEqual({ ok: true })
    expect(decide(on('11:00'), on('12:00'))).toEqual({ ok: true })
    expect(decide(on('08:00'), on('09:00'), ' ')).toMatchObject({ reason: 'needs-a-reason' })
    expect(decide(on('09:00'), on('09:00'))).toMatchObject({ reason: 'ends-before-it-starts' })
    expect(decide(on('08:00'), on('12:00', '26'))).toMatchObject({ reason: 'in-the-future' })
    expect(decide(on('08:00'), on('10:01'))).toMatchObject({ reason: 'overlaps' })
    expect(decide(on('09:00'), on('12:00'))).toMatchObject({ reason: 'overlaps' })
  })
})

test('refuses a stamp that stops before it starts', () => {
  expect(() => stretches([stamp('a', on('10:00'), on('09:00'))])).toThrow('benchStretches needs stamps that stop after they start')
  expect(() => stretches([stamp('a', on('10:00'), null, corrected(on('10:00'), on('09:00')))])).toThrow(RangeError)
})
