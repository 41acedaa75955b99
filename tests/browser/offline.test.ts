/** The bench in a dead corner: what is taken lies on the tablet, and reaches the book once, in order, whatever happens between. */
import { expect, test, vi } from 'vitest'
import { takeWidth } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'
import { bookJob } from '#tests/support/factories.ts'
import { startTablet } from '#tests/support/tablet.ts'
import { uuidv7 } from '#web/lib/id.ts'

const screens = await startScreens()
const tablet = await startTablet(screens)
/** A tap is answered, and the screen is never held, within this: longer is felt as waiting (common practice, no source). */
const SAID_MS = 100
const BLOCKED_MS = 100
/** Of four readings each, on each of two cranks. */
const SETS = 25

const sets = async (jobId: string) =>
  (
    await screens.db.pool.query(
      'SELECT m.kind, p.sign_in AS "by", m.occurred_at AS at FROM measurement m JOIN person p ON p.id = m.person_id WHERE m.job_id = $1 ORDER BY m.recorded_at, m.id',
      [jobId],
    )
  ).rows as { kind: string; by: string; at: Date }[]

test('with the network gone two sets are saved on the tablet, and a killed browser loses none (O1, O2)', async () => {
  const job = await bookJob(screens, { customer: { name: 'Hollis Quartermain', phone: '0161 496 0100' } })
  await tablet.openOnce(job.id)

  tablet.proxy.network = 'gone'
  expect(await takeWidth(tablet, 1)).toBeLessThan(SAID_MS)
  await tablet.page.getByRole('button', { name: 'Read another set' }).click()
  expect(await takeWidth(tablet, 2)).toBeLessThan(SAID_MS)
  await tablet.page.reload()
  await tablet.waits(2).waitFor()
  await tablet.page.getByText('Taken so far').waitFor()
  expect(await tablet.storage()).not.toMatch(/Hollis|Quartermain|Jonas|Achterberg/)

  await tablet.kill()
  await tablet.open()
  // No network yet: the worker opens the book, and the crank with what was taken on it.
  await tablet.page.goto(`/bench/${job.id}/read/width`)
  await tablet.waits(2).waitFor()
  expect(await sets(job.id)).toHaveLength(0)

  tablet.proxy.network = 'whole'
  // A killed browser keeps no session: the hand signs in, and what waited goes out under its own name.
  await tablet.signIn()
  await tablet.page.goto('/bench')
  await vi.waitFor(async () => expect(await sets(job.id)).toHaveLength(2), { timeout: 15_000 })
  const taken = await sets(job.id)
  expect(taken.map((set) => set.by)).toEqual(['jonas', 'jonas'])
  expect(taken[0]!.at.getTime()).toBeLessThan(taken[1]!.at.getTime())
  await tablet.waits(0).first().waitFor({ state: 'attached' })
  expect(await tablet.waiting()).toEqual([])
})

test('an answer that is lost after the book has written it down doubles nothing (O3)', async () => {
  const job = await bookJob(screens)
  await tablet.openOnce(job.id)
  tablet.proxy.network = 'answers-lost'
  await takeWidth(tablet, 1)
  await vi.waitFor(async () => expect(await sets(job.id)).toHaveLength(1), { timeout: 10_000 })
  await tablet.waits(1).waitFor()
  tablet.proxy.network = 'whole'
  await tablet.page.evaluate("window.dispatchEvent(new Event('online'))")
  await vi.waitFor(async () => expect(await tablet.waiting()).toEqual([]), { timeout: 15_000 })
  expect(await sets(job.id)).toHaveLength(1)
})

test('two hundred readings over a network that breaks three in ten arrive once and in order, and the screen never stops (O4)', async () => {
  const jobs = [await bookJob(screens), await bookJob(screens)]
  await tablet.page.goto('/bench')
  await tablet.page.getByRole('heading', { level: 1 }).waitFor()
  const [{ id: personId }] = (await screens.db.pool.query("SELECT id FROM person WHERE sign_in = 'jonas'")).rows as [{ id: string }]
  const records = jobs.flatMap((job, lane) =>
    Array.from({ length: SETS }, (_, n) => {
      const id = uuidv7(
        Date.now() - 60_000 + n * 1_000,
        Uint8Array.from({ length: 10 }, (_, at) => 32 * lane + n + at),
      )
      const occurredAt = new Date(Date.now() - 60_000 + n * 1_000).toISOString()
      const values = ['0', '90', '180', '270'].map((place) => ({ place, mm: 64, typed: '64.00', unit: 'mm' }))
      const body = { id, occurredAt, kind: 'width', phase: 'received', values }
      const sent = { method: 'POST', route: `/api/jobs/${job.id}/measurements`, body, shown: null, occurredAt }
      return {
        key: `key-${id}`,
        personId,
        lane: job.id,
        jobId: job.id,
        what: 'width',
        ...sent,
        tries: 0,
        notBefore: 0,
        state: 'waiting',
        schema: 1,
      }
    }),
  )
  tablet.proxy.network = 'flaky'
  expect(await tablet.page.evaluate('PerformanceObserver.supportedEntryTypes')).toContain('longtask')
  await tablet.page.evaluate(`(async () => {
    window.longest = 0
    new PerformanceObserver((list) => { for (const entry of list.getEntries()) window.longest = Math.max(window.longest, entry.duration) }).observe({ type: 'longtask' })
    const database = await new Promise((resolve) => {
      const request = indexedDB.open('throwbook-outbox')
      request.onsuccess = () => resolve(request.result)
    })
    const records = database.transaction('records', 'readwrite').objectStore('records')
    for (const record of ${JSON.stringify(records)}) records.add(record)
    await new Promise((resolve) => { records.transaction.oncomplete = resolve })
    database.close()
    window.dispatchEvent(new Event('online'))
  })()`)
  for (const job of jobs) await vi.waitFor(async () => expect(await sets(job.id)).toHaveLength(SETS), { timeout: 60_000, interval: 300 })
  tablet.proxy.network = 'whole'
  await vi.waitFor(async () => expect(await tablet.waiting()).toEqual([]), {
    timeout: 30_000,
    interval: 300,
  })
  for (const job of jobs) {
    const times = (await sets(job.id)).map((set) => set.at.getTime())
    expect(times).toHaveLength(SETS)
    expect(times).toEqual([...times].sort((one, other) => one - other))
  }
  expect(await tablet.page.evaluate('window.longest')).toBeLessThan(BLOCKED_MS)
})

test('a crank that went on elsewhere meanwhile: readings land late, a step is parked with why and kept until the hand says (O5)', async () => {
  const job = await bookJob(screens)
  await tablet.openOnce(job.id)
  await tablet.page.goto(`/bench/${job.id}`)
  await tablet.page.getByRole('button', { name: 'Measured' }).waitFor()
  await tablet.keeps(job.id, 'gate')
  tablet.proxy.network = 'gone'
  await tablet.page.goto(`/bench/${job.id}/read/width`)
  await takeWidth(tablet, 1)
  await tablet.page.goto(`/bench/${job.id}`)
  await tablet.page.getByRole('button', { name: 'Measured' }).click()
  await tablet.waits(2).waitFor()
  const owner = await screens.as('owner')
  await owner.post(`/api/jobs/${job.id}/place`, { place: 'rack 2' }).expect(200)
  await owner.post(`/api/jobs/${job.id}/notes`, { says: 'Asked for again' }).expect(201)
  tablet.proxy.network = 'whole'
  await tablet.page.goto('/bench/waiting')
  const parked = tablet.page.getByRole('region', { name: 'The book did not take these' })
  await parked.getByText('called measured').waitFor()
  expect((await tablet.waiting()).map((record) => record.state)).toEqual(['parked'])
  const [landed, ...more] = (
    await screens.db.pool.query('SELECT occurred_at < recorded_at AS late FROM measurement WHERE job_id = $1', [job.id])
  ).rows as { late: boolean }[]
  expect(landed).toEqual({ late: true })
  expect(more).toEqual([])
  // It says why, and stays until it is dropped by hand.
  expect(await parked.getByRole('listitem').allTextContents()).toEqual(
    expect.arrayContaining([expect.stringMatching(/both ends|runout|end/i)]),
  )
  await tablet.page.reload()
  await parked.getByRole('button', { name: 'Drop it' }).click()
  await parked.getByRole('button', { name: 'Drop it for good' }).click()
  await parked.waitFor({ state: 'detached' })
  expect(await tablet.waiting()).toEqual([])
})

test('signing out with something waiting asks first, clears what was read, and leaves no name behind (O7)', async () => {
  const job = await bookJob(screens)
  await tablet.openOnce(job.id)
  tablet.proxy.network = 'gone'
  await takeWidth(tablet, 1)
  await tablet.page.locator('.me-open').click()
  await tablet.page.getByRole('button', { name: 'Sign out' }).click()
  const dialog = tablet.page.getByRole('dialog')
  await dialog.getByRole('button', { name: 'Save as a file' }).waitFor()
  tablet.proxy.network = 'whole'
  await dialog.getByRole('button', { name: 'Sign out all the same' }).click()
  await tablet.page.getByLabel('Password').waitFor()
  await vi.waitFor(async () => expect(JSON.parse(await tablet.storage())['throwbook-reads/reads']).toEqual([]), { timeout: 8_000 })
  expect(await tablet.storage()).not.toMatch(/Jonas|Achterberg|Hollis/)
})
