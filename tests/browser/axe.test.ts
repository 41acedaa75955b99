import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { GaugeStudy } from '#contract/gauge-studies.ts'
import type { Agent } from '#tests/support/app.ts'
import { handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'
import { type OpenPage, startScreens } from '#tests/support/browser.ts'
import { goneRebuild, reportTold, sendHome } from '#tests/support/comeback-factories.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const screens = await startScreens()
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

interface Violation {
  id: string
  help: string
  nodes: { html: string }[]
}

const cookies: Record<string, string> = {}
const ids: Record<string, string> = {}
const DAY_MS = 86_400_000
const daysAgo = (days: number) => new Date(Date.now() - days * DAY_MS).toISOString().slice(0, 10)

beforeAll(async () => {
  const hands = await handsOf(screens)
  const { counter, bench, second, owner, dial } = hands
  for (const [name, agent] of Object.entries({ counter, bench, second, owner })) cookies[name] = agent.cookie.replace('throwbook=', '')
  const trued = await truedRebuild(hands)
  await secondReading(hands, trued)
  const booked = await bookJob(screens, { promisedOn: '2099-12-03' })
  const home = await goneRebuild(hands)
  await sendHome(screens, home, daysAgo(40))
  const report = await reportTold(counter, home, { day: daysAgo(1) })
  const { customer } = (await counter.get(`/api/jobs/${home.id}`).expect(200)).body
  const returned = await bookJob(screens, { customer: { id: customer.id }, crank: { id: home.crank.id }, comebackOf: home.id })
  await sendHome(screens, await bookJob(screens), daysAgo(30))
  const link = (await counter.post(`/api/jobs/${booked.id}/link`, {}).expect(201)).body as { url: string }
  const study = {
    name: 'Dial 4 on two cranks',
    instrumentId: dial.id,
    what: 'full swing at the left end',
    toleranceMm: 0.02,
    parts: ['318-V', '319-X'],
    people: [bench.person.id, second.person.id],
    rounds: 2,
  }
  const made = async (address: string, body: object): Promise<string> => (await bench.post(address, body).expect(201)).body.id
  Object.assign(ids, {
    trued: trued.id,
    booked: booked.id,
    returned: returned.id,
    crank: home.crank.id,
    comeback: report.id,
    customer: customer.id,
    other: (await addCustomer(screens)).id,
    engine: (await addEngine(screens)).id,
    bench: bench.person.id,
    dial: dial.id,
    token: link.url.split('/').at(-1),
    practice: await made('/api/practice', { level: 'two' }),
    study: await made('/api/gauge-studies', study),
    allIn: await made('/api/gauge-studies', study),
  })
  for (const by of [bench, second]) await readAll(by, ids.allIn ?? '')
})

/** Reads every part of a study that is this hand's to read. */
async function readAll(by: Agent, id: string): Promise<void> {
  let { next } = (await by.get(`/api/gauge-studies/${id}`).expect(200)).body as GaugeStudy
  while (next) ({ next } = (await by.post(`/api/gauge-studies/${id}/readings`, { ...next, mm: 0.02 * next.part }).expect(201)).body)
}

/** Address, who opens it. An id in braces is filled in. */
const PAGES: [address: string, who: 'counter' | 'bench' | 'second' | 'owner' | 'nobody'][] = [
  ['/sign-in', 'nobody'],
  ['/set-up', 'nobody'],
  ['/check', 'nobody'],
  ['/crank/{token}', 'nobody'],
  ['/own-network', 'nobody'],
  ['/nowhere', 'nobody'],
  ['/counter', 'counter'],
  ['/counter/book-in', 'counter'],
  ['/counter/calls', 'counter'],
  ['/jobs/{booked}', 'counter'],
  ['/jobs/{returned}', 'counter'],
  ['/jobs/{trued}', 'owner'],
  ['/jobs/{booked}/tagged', 'counter'],
  ['/jobs/{trued}/hand-over', 'counter'],
  ['/cranks/{crank}', 'counter'],
  ['/customers', 'counter'],
  ['/customers/{customer}', 'counter'],
  ['/customers/{customer}/merge?with={other}', 'owner'],
  ['/engines', 'owner'],
  ['/engines/{engine}', 'owner'],
  ['/engines/new', 'owner'],
  ['/bench', 'bench'],
  ['/bench/{booked}', 'bench'],
  ['/bench/{booked}/width', 'bench'],
  ['/bench/{booked}/read/pin', 'bench'],
  ['/bench/{booked}/read/runout', 'bench'],
  ['/bench/{trued}/part', 'bench'],
  ['/bench/{trued}/kit', 'bench'],
  ['/bench/{trued}/press', 'bench'],
  ['/bench/{trued}/weld', 'bench'],
  ['/bench/{trued}/true', 'bench'],
  ['/bench/{trued}/check', 'second'],
  ['/bench/{trued}/sign', 'second'],
  ['/bench/{trued}/hours', 'bench'],
  ['/bench/{returned}/comeback', 'bench'],
  ['/bench/instruments', 'bench'],
  ['/bench/instruments/{dial}', 'bench'],
  ['/bench/gauge-studies', 'bench'],
  ['/bench/gauge-studies/{study}', 'bench'],
  ['/bench/gauge-studies/{allIn}', 'owner'],
  ['/bench/practice', 'bench'],
  ['/bench/practice/{practice}', 'bench'],
  ['/bench/waiting', 'bench'],
  ['/bench/tablet', 'bench'],
  ['/my-sign-in', 'bench'],
  ['/my-line', 'bench'],
  ['/pin', 'bench'],
  ['/office', 'owner'],
  ['/office/came-back', 'owner'],
  ['/office/flow', 'owner'],
  ['/office/first-check', 'owner'],
  ['/office/earns', 'owner'],
  ['/office/cranks?figure=in-house', 'owner'],
  ['/office/comebacks', 'owner'],
  ['/office/comebacks/{comeback}', 'owner'],
  ['/office/people', 'owner'],
  ['/office/settings', 'owner'],
  ['/office/audit', 'owner'],
  ['/office/tablets', 'owner'],
  ['/office/backup', 'owner'],
  ['/office/learning/{bench}', 'owner'],
]

test('every screen of the router is looked at', () => {
  const router = readFileSync(path.resolve(import.meta.dirname, '../../web/router.tsx'), 'utf8')
  const paths = [...router.matchAll(/path: '([^'*]+)'/g)].map(([, found]) => found ?? '')
  expect(paths.length).toBeGreaterThan(40)
  const addresses = PAGES.map(([address]) => address.replace(/\?.*/, '').slice(1))
  const isLookedAt = (one: string) => addresses.some((address) => new RegExp(`^${one.replaceAll(/:\w+/g, '[^/]+')}$`).test(address))
  expect(paths.filter((one) => !isLookedAt(one))).toEqual([])
})

// Rules of WCAG 2.0 to 2.2, A and AA, as axe-core 4.14 has them; a scan finds a part of what a person would.
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

describe.each([
  { mode: 'light', width: 1280, height: 800 },
  { mode: 'bench', width: 820, height: 1180 },
  { mode: 'sun', width: 390, height: 844 },
])('$mode at $width', ({ mode, width, height }) => {
  const opened = new Map<string, Promise<OpenPage>>()
  /** One page for each person: what it fetched for one screen serves the next. */
  const pageOf = (who: string) => {
    const known = opened.get(who) ?? openFor(who)
    opened.set(who, known)
    return known
  }
  async function openFor(who: string): Promise<OpenPage> {
    const one = await screens.open({ width, height })
    const context = one.page.context()
    if (who !== 'nobody') await context.addCookies([{ name: 'throwbook', value: cookies[who] ?? '', url: screens.address }])
    await context.addInitScript(`localStorage.setItem('throwbook.mode', '${mode}')`)
    return one
  }
  afterAll(async () => {
    for (const one of opened.values()) await (await one).page.context().close()
  })

  test.each(PAGES)('%s as %s: nothing for axe to say, and no scrolling sideways', async (address, who) => {
    const { page, faults, atRest } = await pageOf(who)
    faults.length = 0
    await page.goto(
      address.replaceAll(/\{(\w+)\}/g, (_, name: string) => ids[name] ?? name),
      { waitUntil: 'commit' },
    )
    await atRest()
    expect(await page.getByText('could not be fetched').count()).toBe(0)
    // By the debugger's channel, since the page's own policy lets no foreign script in.
    await page.evaluate(axe)
    const violations = (await page.evaluate(
      `axe.run({ runOnly: ${JSON.stringify(RULES)} }).then((found) => found.violations)`,
    )) as Violation[]
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`)).toEqual([])
    expect(await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBeLessThanOrEqual(0)
    expect(faults).toEqual([])
  })
})
