import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { signIn } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'
import { bookJob } from '#tests/support/factories.ts'

const screens = await startScreens()
const PASSWORD = 'copper hammer and lead block'
let job: { id: string; tag: string }
/** A page of another site with a link on it, as a mail in a browser is: for SameSite, localhost is another site than 127.0.0.1. */
let mail: { address: string; link: string }

beforeAll(async () => {
  const owner = await screens.as('owner')
  await owner.post('/api/people', { signIn: 'hana', name: 'Hana', role: 'counter', password: PASSWORD }).expect(201)
  job = await bookJob(screens)
  const link = `${screens.address}/jobs/${job.id}?from=mail#history`
  const server = createServer((_request, answer) => {
    answer.setHeader('content-type', 'text/html')
    answer.end(`<a href="${link}">the crank</a>`)
  })
  await new Promise<void>((resolve) => server.listen(0, 'localhost', resolve))
  mail = { address: `http://localhost:${(server.address() as AddressInfo).port}/`, link }
  afterAll(() => server.close())
})

test('a link from a mail opens its page at once for somebody signed in, though the cookie is strict (S9)', async () => {
  const { page } = await signIn(screens, 'hana', PASSWORD)
  await page.goto(mail.address)
  const first = page.waitForRequest((request) => request.isNavigationRequest() && request.url().startsWith(screens.address))
  await page.getByText('the crank').click()
  expect((await (await first).allHeaders()).cookie, 'the cookie does not travel from another site').toBeUndefined()
  await page.getByRole('heading', { level: 1, name: new RegExp(job.tag) }).waitFor()
  expect(page.url()).toBe(mail.link)
  await page.context().close()
})

test('and leads there over the sign-in for somebody who is not (S9)', async () => {
  const { page } = await screens.open()
  await page.goto(mail.address)
  await page.getByText('the crank').click()
  await page.getByLabel('Name', { exact: true }).fill('hana')
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.getByRole('heading', { level: 1, name: new RegExp(job.tag) }).waitFor()
  expect(page.url()).toBe(mail.link)
  await page.context().close()
})
