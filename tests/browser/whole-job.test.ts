import { expect, test } from 'vitest'
import { keepSetUpCode } from '#server/features/sessions/store.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { signIn } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'

const screens = await startScreens()
const PASSWORD = 'copper hammer and lead block'

test('one crank from the counter to home', async () => {
  await keepSetUpCode(screens.db, await hashPassword('ABC123ABC123'))
  const first = await screens.open()
  await first.page.goto('/')
  await first.page.waitForTimeout(1500)
  console.log(first.page.url())
  await first.page.screenshot({ path: '/tmp/team/pics/w1.png' })
  const { page } = first
  await page.getByLabel('One-time code').fill('ABC123ABC123')
  await page.getByLabel('Name of the shop').fill('Kettle Row Crank Works')
  await page.getByLabel('Your name, as colleagues say it').fill('Ewa')
  await page.getByLabel('Your name at sign-in').fill('ewa')
  await page.getByLabel('Your password').fill(PASSWORD)
  await page.getByRole('button', { name: /owner|open|make/i }).click()
  await page.waitForTimeout(1500)
  await page.screenshot({ path: '/tmp/team/pics/w2.png' })
  await page.goto('/office/people')
  await page.waitForTimeout(1000)
  await page.screenshot({ path: '/tmp/team/pics/w3.png' })
  await page.goto('/engines/new')
  await page.waitForTimeout(1000)
  await page.screenshot({ path: '/tmp/team/pics/w4.png', fullPage: true })
  expect(first.faults).toEqual([])
})
