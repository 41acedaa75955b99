/** What people do at the screens, in their words: signing in, keying figures, keeping a set. */
import { expect } from 'vitest'
import type { OpenPage, Screens } from '#tests/support/browser.ts'

/** In place of a figure: this one is left out of the set. */
export const LEFT_OUT = ''

export type Someone = OpenPage & { name: string }

export async function signIn(
  screens: Screens,
  name: string,
  password: string,
  size: { width?: number; height?: number } = {},
): Promise<Someone> {
  return signInAt(await screens.open(size), name, password)
}

export async function signInAt(opened: OpenPage, name: string, password: string): Promise<Someone> {
  await opened.page.goto('/sign-in')
  await opened.page.getByLabel('Name', { exact: true }).fill(name)
  await opened.page.getByLabel('Password').fill(password)
  await opened.page.getByRole('button', { name: 'Sign in' }).click()
  await opened.page.waitForURL((url) => !url.pathname.startsWith('/sign-in'))
  return { ...opened, name }
}

/** Keys figures on the pad, each with Enter, and answers the question that an odd one brings. */
export async function keyIn({ page }: Pick<Someone, 'page'>, figures: readonly string[]): Promise<void> {
  await page.getByRole('group', { name: 'Keypad' }).waitFor()
  // Enter belongs to the key that was pressed last until the hand goes to the figures.
  await page.evaluate('document.activeElement?.blur()')
  for (const figure of figures) {
    if (figure === LEFT_OUT) {
      await page.getByRole('button', { name: 'Leave this one out' }).click()
      continue
    }
    await page.keyboard.type(figure)
    await page.keyboard.press('Enter')
    const asked = page.getByRole('button', { name: 'Yes, it does' })
    if (await asked.isVisible()) await asked.click()
  }
}

/** Width at four places, kept without the network; how long until the tablet says that so many are saved on it, ms. */
export async function takeWidth({ page }: Pick<Someone, 'page'>, count: number): Promise<number> {
  await keyIn({ page }, ['6398', '6399', '6401', '6400'])
  await page.getByRole('button', { name: 'Keep this set' }).waitFor()
  return page.evaluate(`(async () => {
    const began = performance.now()
    const said = () => document.body.textContent.includes('Saved on this tablet, ${count} waiting.')
    const seen = new Promise((resolve) => {
      const look = new MutationObserver(() => { if (said()) resolve(performance.now() - began) })
      look.observe(document.body, { childList: true, subtree: true, characterData: true })
    })
    for (const button of document.querySelectorAll('button')) if (button.textContent === 'Keep this set') button.click()
    return seen
  })()`) as Promise<number>
}

/** One set of figures of a kind, read back and kept. */
export async function takeSet(someone: Someone, jobId: string, kind: string, figures: readonly string[]): Promise<void> {
  const { page } = someone
  await page.goto(`/bench/${jobId}/read/${kind}`)
  await keyIn(someone, figures)
  const keep = page.getByRole('button', { name: 'Keep this set' })
  await keep.click()
  await keep.waitFor({ state: 'detached' })
}

/** Both ends round one turn, left and right at each mark, 12 again at the end, in divisions of the dial. */
export async function readBothEnds(someone: Someone, left: readonly number[], right: readonly number[]): Promise<void> {
  const turn = left.flatMap((division, mark) => [String(division), String(right[mark])])
  await keyIn(someone, turn)
  const take = someone.page.getByRole('button', { name: /^(Take this set|Cold: take this set)$/ })
  await take.click()
  await take.waitFor({ state: 'detached' })
}

export async function press({ page }: Someone, button: string | RegExp): Promise<void> {
  await page.getByRole('button', { name: button }).click()
}

/** Nothing was thrown, and nothing was asked of another host. */
export function noFaults(...people: readonly Someone[]): void {
  for (const { name, faults } of people) expect(faults, name).toEqual([])
}
