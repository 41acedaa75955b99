import { expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp({ publicUrl: '' })

test('without an address of its own the shop’s links carry the address of the request', async () => {
  const counter = await it.as('counter')
  const job = await bookJob(it)
  const answer = await counter.post(`/api/jobs/${job.id}/link`).set('host', 'book.shop.example').expect(201)
  expect(answer.body.url).toMatch(/^http:\/\/book\.shop\.example\/crank\/[A-Za-z0-9_-]{43}$/)
})
