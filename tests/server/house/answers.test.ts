import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { bench } from '#contract/bench.ts'
import { jobPage } from '#contract/book.ts'
import { job } from '#contract/jobs.ts'
import { checkedAnswers, pickedAnswers } from '#server/plugins/answers.ts'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const route = { method: 'GET', url: '/', httpStatus: '200' } as const
const picked = (schema: z.ZodType, value: unknown) => JSON.parse(pickedAnswers({ schema, ...route })(value))
const checked = (schema: z.ZodType, value: unknown) => JSON.parse(checkedAnswers({ schema, ...route })(value))

describe('an answer', () => {
  const line = z.strictObject({ says: z.string(), by: z.string().optional() })

  test('leaves without fields that are not listed, however deep they lie', () => {
    const schema = z.strictObject({
      id: z.string(),
      lines: z.array(line),
      last: line.nullable().optional(),
      byName: z.record(z.string(), line),
    })
    const secret = { says: 'yes', passwordHash: 'x' }
    expect(picked(schema, { id: 'a', passwordHash: 'x', lines: [secret, secret], last: secret, byName: { one: secret } })).toEqual({
      id: 'a',
      lines: [{ says: 'yes' }, { says: 'yes' }],
      last: { says: 'yes' },
      byName: { one: { says: 'yes' } },
    })
    expect(picked(schema, { id: 'a', lines: [], last: null, byName: {} })).toEqual({ id: 'a', lines: [], last: null, byName: {} })
  })

  test('of one of several shapes leaves in the one that it has, and never with more than that lists', () => {
    const schema = z.strictObject({ what: z.union([z.object({ a: z.number() }), z.object({ b: z.number() })]) })
    expect(picked(schema, { what: { b: 1, passwordHash: 'x' } })).toEqual({ what: { b: 1 } })
    const strict = z.strictObject({ what: z.union([z.strictObject({ a: z.number() }), z.strictObject({ b: z.number() })]) })
    expect(() => picked(strict, { what: { b: 1, passwordHash: 'x' } })).toThrow()
  })

  test('of a shape that holds itself is picked over to its end', () => {
    interface Branch {
      name: string
      branches: Branch[]
    }
    const branch: z.ZodType<Branch> = z.strictObject({ name: z.string(), branches: z.lazy(() => z.array(branch)) })
    const tree = { name: 'one', branches: [{ name: 'two', branches: [] }] }
    expect(picked(branch, tree)).toEqual(tree)
  })

  test('of a free form leaves as it is', () => {
    const schema = z.strictObject({ data: z.record(z.string(), z.unknown()), any: z.looseObject({ a: z.string() }) })
    const value = { data: { x: { y: [1] } }, any: { a: 'a', b: 'b' } }
    expect(picked(schema, value)).toEqual(value)
  })

  test('is the same picked as checked, for pages of the book', async () => {
    const it = await startApp()
    const { id } = await bookJob(it)
    const owner = await it.as('owner')
    for (const [address, schema] of [
      [`/api/jobs/${id}`, job],
      ['/api/jobs', jobPage],
      [`/api/jobs/${id}/measurements`, bench],
    ] as const) {
      const { body } = await owner.get(address).expect(200)
      expect(picked(schema, body)).toEqual(checked(schema, body))
      expect(picked(schema, { ...body, passwordHash: 'x' })).toEqual(body)
    }
  })

  test('is picked over by a server that does not check', async () => {
    const it = await startApp({ checkAnswers: false })
    const { id } = await bookJob(it)
    const owner = await it.as('owner')
    const { body } = await owner.get(`/api/jobs/${id}`).expect(200)
    expect(job.safeParse(body).success).toBe(true)
  })
})
