import { describe, expect, it } from 'vitest'
import { checkState } from '#core/bench/check-state.ts'
import type { JobRecord } from '#core/bench/job-record.ts'
import { hiddenSets, secondCheck } from '#core/bench/second-check.ts'
import { at } from '#tests/core/gates/ready-job.ts'
import { aRecord, pressed, runout } from './record.ts'

/** The ordinary job before anybody has read it a second time. */
function unchecked(changes: Partial<JobRecord> = {}): JobRecord {
  const record = aRecord()
  return { ...record, sets: record.sets.slice(0, -1), ...changes }
}

const first = (record: JobRecord) => record.sets.find((set) => set.phase === 'built' && set.kind === 'runout')!

describe('hiddenSets', () => {
  it('keeps the first reading from all but its reader while the second is waited for', () => {
    const record = unchecked()
    expect([...hiddenSets(record, 'marek')]).toEqual([first(record).id])
    expect([...hiddenSets(record, null)]).toEqual([first(record).id])
    expect(hiddenSets(record, 'jonas').size).toBe(0)
    expect(hiddenSets(aRecord(), 'marek').size).toBe(0)
    expect(hiddenSets({ ...record, state: 'together' }, 'marek').size).toBe(0)
    expect(hiddenSets({ ...record, state: 'signed' }, 'marek').size).toBe(0)
    expect(hiddenSets({ ...record, state: 'scrapped' }, 'marek').size).toBe(0)
  })

  it('keeps every reading since the last blow, struck-out ones too, and none of before', () => {
    const record = unchecked()
    const earlier = runout(80, 'building', { swingMm: 0.1 })
    const struck = { ...runout(99, 'built', { swingMm: 0.01 }), isStruck: true }
    const sets = [earlier, struck, ...record.sets]
    expect([...hiddenSets({ ...record, sets }, 'marek')]).toEqual([struck.id, first(record).id])
    const moved = { ...record, sets, moves: [...record.moves, { action: 'wedge' as const, doneAt: at(120) }] }
    expect(hiddenSets(moved, 'marek').size).toBe(0)
    expect(hiddenSets({ ...moved, moves: [...record.moves, { action: 'leave', doneAt: at(120) }] }, 'marek').size).toBe(2)
  })

  it('of a report keeps what it came in with', () => {
    const sets = [runout(2, 'received', { swingMm: 0.3 })]
    const report = unchecked({ kind: 'check-and-report', state: 'measured', sets, pressings: [], moves: [] })
    expect([...hiddenSets(report, 'marek')]).toEqual([sets[0]!.id])
  })
})

describe('secondCheck', () => {
  it('tells before and after by the order in which the book got them, whatever the clocks of two tablets say', () => {
    const record = unchecked()
    const slow = { ...runout(110, 'second', { swingMm: 0.01 }, { personId: 'marek' }), doneAt: at(95) }
    expect(secondCheck({ ...record, sets: [...record.sets, slow] }).second).toBe(slow)
  })

  it('begins anew with a new first reading', () => {
    const record = aRecord()
    const anew = runout(120, 'built', { swingMm: 0.01 })
    expect(secondCheck({ ...record, sets: [...record.sets, anew] })).toMatchObject({ first: anew, second: null, third: null })
  })
})

describe('checkState', () => {
  it('asks another person for the second, then nobody where the two agree', () => {
    const record = unchecked()
    expect(checkState(record, 'marek')).toMatchObject({ next: 'second', mayRead: true, because: null, agree: null, says: [] })
    expect(checkState(record, 'jonas')).toMatchObject({ next: 'second', mayRead: false })
    expect(checkState({ ...record, settings: { ...record.settings, samePersonMayCheck: true } }, 'jonas').mayRead).toBe(true)
    expect(checkState(aRecord(), 'ewa')).toMatchObject({ next: null, agree: true, because: 'The readings are in.' })
  })

  it('asks either of the two for a third where they do not agree, and then no more', () => {
    const record = unchecked()
    const sets = [...record.sets, runout(110, 'second', { swingMm: 0.03 }, { personId: 'marek' })]
    for (const who of ['jonas', 'marek'])
      expect(checkState({ ...record, sets }, who)).toMatchObject({ next: 'third', mayRead: true, agree: false })
    expect(checkState({ ...record, sets }, 'ewa')).toMatchObject({ next: 'third', mayRead: false })
    const withThird = [...sets, runout(115, 'third', { swingMm: 0.011 })]
    expect(checkState({ ...record, sets: withThird }, 'jonas')).toMatchObject({ next: null, agree: true })
  })

  it('waits for a new first reading after a blow, a pressing or a weld', () => {
    const record = unchecked()
    for (const stirred of [
      { moves: [...record.moves, { action: 'squeeze' as const, doneAt: at(120) }] },
      { pressings: [...record.pressings, pressed(120, { direction: 'together', side: 'left' })] },
      { welds: [{ doneAt: at(120) }] },
    ])
      expect(checkState({ ...record, ...stirred }, 'marek')).toMatchObject({ next: 'second', mayRead: false })
  })

  it('has nothing next where the job does not stand at its second check, and nothing agreed where the second was let go unread', () => {
    expect(checkState(unchecked({ state: 'together' }), 'marek')).toMatchObject({ next: null, mayRead: false })
    const record = unchecked()
    const unread = { ...runout(110, 'second', {}, { personId: 'ewa' }), values: [], runout: null, notReadBecause: 'dial 4 fell' }
    expect(checkState({ ...record, sets: [...record.sets, unread] }, 'marek')).toMatchObject({ next: null, agree: false })
  })
})
