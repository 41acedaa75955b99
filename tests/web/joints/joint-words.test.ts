import { expect, test } from 'vitest'
import type { Gate } from '#contract/steps.ts'
import type { Joint } from '#core/crank-build.ts'
import { JOB_ID, sheet } from '#tests/web/bench-sample.ts'
import { leftByJoint, wayFor } from '#web/features/jobs/bench-ways.ts'
import { allowedWords } from '#web/features/truing/allowed-words.ts'

// What the gate of a twin asks for is common practice of the trade, no source.

test('what is missing leads to its own joint; what is of the whole does not', () => {
  const job = { id: JOB_ID, engineId: sheet.id }
  expect(wayFor('width', job, 'throw-2')).toEqual({ to: `/bench/${JOB_ID}/read/width?joint=throw-2`, says: 'Read the width, throw 2' })
  expect(wayFor('peak-tonnage-left', job, 'centre-1')?.to).toBe(`/bench/${JOB_ID}/part?joint=centre-1`)
  expect(wayFor('phase', job, 'throw-2')?.to).toBe(`/bench/${JOB_ID}/read/phase`)
  expect(wayFor('centre-runout', job, 'centre-1')?.to).toBe(`/bench/${JOB_ID}/read/centre`)
})

test('what is left is said in one line, joint by joint; of a crank with one throw no such line is made', () => {
  const job = { id: JOB_ID, engineId: sheet.id }
  const lacks = (code: Gate['missing'][number]['code'], joint?: Joint) => ({
    code,
    detail: code,
    pass: 'owner' as const,
    ...(joint === undefined ? {} : { joint }),
  })
  const missing = [
    lacks('width', 'throw-1'),
    lacks('side-clearance', 'throw-1'),
    lacks('width', 'throw-2'),
    lacks('runout-left'),
    lacks('runout-right'),
  ]
  expect(leftByJoint(missing, job)).toBe(
    'Throw 1: read the width, read the side clearance; throw 2: read the width; whole crank: read both ends',
  )
  expect(leftByJoint([lacks('width')], job)).toBeUndefined()
})

test('a half on its own shafts has no limit and is told what to aim for; the whole without one is not to be compared', () => {
  const setup = { held: 'v-blocks-bare', dialLeftMm: 16, dialRightMm: 16 } as const
  expect(allowedWords({ limits: { atStatedPlace: false } }, setup, { stepMm: 0.01, joint: 'throw-1' })).toContain(
    'as near nothing as it will go',
  )
  expect(allowedWords({ limits: { atStatedPlace: false } }, setup, { stepMm: 0.01, joint: undefined })).toContain('not to be compared')
})
