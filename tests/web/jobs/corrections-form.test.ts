import fc from 'fast-check'
import { expect, test } from 'vitest'
import { jobChange } from '#contract/jobs.ts'
import { job } from '#tests/web/jobs/sample-job.ts'
import { cameWithOf, changeOf, correctionsOf } from '#web/features/jobs/corrections-form.ts'

const base = correctionsOf(job)

test('nothing changed sends nothing, and only what differs is sent', () => {
  expect(changeOf(base, base)).toEqual({ ok: true, change: {} })
  expect(changeOf(base, { ...base, usedFor: 'enduro', promisedOn: '' })).toEqual({
    ok: true,
    change: { usedFor: 'enduro', promisedOn: null },
  })
})

test('what came with it reads back into the same list', () => {
  expect(base.cameWith).toBe('2 keys, cam gear')
  expect(cameWithOf(base.cameWith)).toEqual(job.cameWith)
})

test('hours are read with either mark, emptied hours are taken away, nonsense is refused', () => {
  expect(changeOf(base, { ...base, hours: '12,5' })).toEqual({ ok: true, change: { hours: 12.5 } })
  expect(changeOf(base, { ...base, hours: ' ' })).toEqual({ ok: true, change: { hours: null } })
  expect(changeOf(base, { ...base, hours: 'many' })).toMatchObject({ ok: false, name: 'hours' })
})

test('whatever text is typed into the plain fields, the wire takes the change', () => {
  const text = fc.string({ unit: 'grapheme', maxLength: 60 }).filter((typed) => !typed.includes('\u0000'))
  fc.assert(
    fc.property(text, text, (usedFor, whoFits) => {
      const read = changeOf(base, { ...base, usedFor, whoFits })
      expect(read.ok && jobChange.safeParse(read.change).success).toBe(true)
    }),
  )
})
