import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { beforeAll, describe, expect, test } from 'vitest'
import { handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'
import { startScreens } from '#tests/support/browser.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const screens = await startScreens()
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

interface Violation {
  id: string
  help: string
  nodes: { html: string }[]
}

const cookies: Record<string, string> = {}
const ids: Record<string, string> = {}

beforeAll(async () => {
  const hands = await handsOf(screens)
  const { counter, bench, second, owner } = hands
  for (const [name, agent] of Object.entries({ counter, bench, second, owner })) cookies[name] = agent.cookie.replace('throwbook=', '')
  const trued = await truedRebuild(hands)
  await secondReading(hands, trued)
  ids.trued = trued.id
  ids.booked = (await bookJob(screens, { promisedOn: '2099-12-03' })).id
  ids.engine = (await addEngine(screens)).id
  ids.customer = (await counter.get(`/api/jobs/${ids.booked}`)).body.customer.id
  ids.bench = bench.person.id
})

/** Address, who opens it. An id in braces is filled in. */
const PAGES: [address: string, who: 'counter' | 'bench' | 'second' | 'owner' | 'nobody'][] = [
  ['/sign-in', 'nobody'],
  ['/check', 'nobody'],
  ['/own-network', 'nobody'],
  ['/counter', 'counter'],
  ['/counter/book-in', 'counter'],
  ['/jobs/{booked}', 'counter'],
  ['/jobs/{trued}', 'owner'],
  ['/jobs/{trued}/hand-over', 'counter'],
  ['/customers', 'counter'],
  ['/customers/{customer}', 'counter'],
  ['/engines', 'owner'],
  ['/engines/{engine}', 'owner'],
  ['/engines/new', 'owner'],
  ['/bench', 'bench'],
  ['/bench/{booked}', 'bench'],
  ['/bench/{booked}/read/width', 'bench'],
  ['/bench/{booked}/read/runout', 'bench'],
  ['/bench/{trued}/part', 'bench'],
  ['/bench/{trued}/kit', 'bench'],
  ['/bench/{trued}/press', 'bench'],
  ['/bench/{trued}/true', 'bench'],
  ['/bench/{trued}/check', 'second'],
  ['/bench/{trued}/sign', 'second'],
  ['/bench/{trued}/hours', 'bench'],
  ['/bench/instruments', 'bench'],
  ['/office', 'owner'],
  ['/office/people', 'owner'],
  ['/office/settings', 'owner'],
  ['/office/tablets', 'owner'],
  ['/office/learning/{bench}', 'owner'],
]

// Rules of WCAG 2.0 to 2.2, A and AA, as axe-core 4.14 has them; a scan finds a part of what a person would.
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

describe.each([
  { mode: 'light', width: 1280, height: 800 },
  { mode: 'bench', width: 820, height: 1180 },
  { mode: 'sun', width: 390, height: 844 },
])('$mode at $width', ({ mode, width, height }) => {
  test.each(PAGES)('%s as %s: nothing for axe to say, and no scrolling sideways', async (address, who) => {
    const { page, faults } = await screens.open({ width, height })
    if (who !== 'nobody') await page.context().addCookies([{ name: 'throwbook', value: cookies[who] ?? '', url: screens.address }])
    await page.context().addInitScript(`localStorage.setItem('throwbook.mode', '${mode}')`)
    // The live stream never rests, and the wait below is for a network at rest.
    await page.context().route('**/api/live*', (route) => route.abort())
    await page.goto(address.replaceAll(/\{(\w+)\}/g, (_, name: string) => ids[name] ?? name))
    await page.getByRole('main').waitFor()
    await page.waitForLoadState('networkidle')
    // By the debugger's channel, since the page's own policy lets no foreign script in.
    await page.evaluate(axe)
    const violations = (await page.evaluate(
      `axe.run({ runOnly: ${JSON.stringify(RULES)} }).then((found) => found.violations)`,
    )) as Violation[]
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`)).toEqual([])
    expect(await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBeLessThanOrEqual(0)
    expect(faults).toEqual([])
    await page.context().close()
  })
})
