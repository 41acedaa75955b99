/** What people do at the screens, in their words: signing in, keying figures, keeping a set. */
import { expect } from 'vitest'
import type { OpenPage, Screens } from '#tests/support/browser.ts'

export type Someone = OpenPage & { name: string }

export async function signIn(screens: Screens, signIn: string, password: string, size: { width?: number; height?: number } = {}): Promise<Someone> {
  const opened = await screens.open(size)
  await opened.page.goto('/')
  await opened.page.getByLabel('Name', { exact: true }).fill(signIn)
  await opened.page.getByLabel('Password').fill(password)
  await opened.page.getByRole('button', { name: 'Sign in' }).click()
  await opened.page.getByRole('button', { name: 'Sign in' }).waitFor({ state: 'detached' })
  return { ...opened, name: signIn }
}

/** Keys one figure after another on the keypad by its keys, and confirms each. */
export async function key({ page }: Someone, figures: readonly string[], confirm: string): Promise<void> {
  for (const figure of figures) {
    for (const sign of figure) await page.getByRole('button', { name: sign === '-' ? 'Minus' : sign, exact: true }).click()
    await page.getByRole('button', { name: confirm }).click()
    // The keypad guards against a knuckle that taps twice.
    await page.waitForTimeout(450)
  }
}

/** Takes one set of figures of a kind and keeps it. */
export async function takeSet(someone: Someone, jobId: string, kind: string, figures: readonly string[], confirm: string): Promise<void> {
  const { page } = someone
  await page.goto(`/bench/${jobId}/read/${kind}`)
  await key(someone, figures, confirm)
  await page.getByRole('button', { name: 'Keep this set' }).click()
  await page.getByRole('button', { name: 'Keep this set' }).waitFor({ state: 'detached' })
}

export function noFaults(...people: readonly Someone[]): void {
  for (const { name, faults } of people) expect(faults, name).toEqual([])
}
