import { beforeAll, expect, test } from 'vitest'
import type { Instrument } from '#contract/instruments.ts'
import type { PersonLearning } from '#contract/learning.ts'
import type { Role } from '#contract/people.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { keyIn, LEFT_OUT, noFaults, press, readBothEnds, type Someone, signIn, takeSet } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'
import { addEngine } from '#tests/support/factories.ts'
import { readCodes, readPdf } from '#tests/support/read-pdf.ts'

const screens = await startScreens()
const PASSWORD = 'copper hammer and lead block'

beforeAll(async () => {
  const owner = await screens.as('owner')
  await owner
    .put('/api/settings', { ...FIRST_SETTINGS, shopName: 'Kettle Row Crank Works', shopAddress: 'Mill Lane 4', zone: 'Europe/Berlin' }, 1)
    .expect(200)
  const people: [string, string, Role, boolean][] = [
    ['hana', 'Hana', 'counter', false],
    ['jonas', 'Jonas', 'bench', false],
    ['marek', 'Marek', 'bench', true],
    ['ewa', 'Ewa', 'owner', true],
  ]
  for (const [signInName, name, role, maySign] of people)
    await owner.post('/api/people', { signIn: signInName, name, role, maySign, password: PASSWORD }).expect(201)
  const instruments: [string, Instrument['kind'], number][] = [
    ['dial 4', 'dial', 0.001],
    ['micrometer 1', 'micrometer', 0.001],
    ['bore gauge 1', 'bore-gauge', 0.001],
    ['feelers', 'feeler', 0.01],
  ]
  for (const [name, kind, stepMm] of instruments)
    await owner.post('/api/instruments', { name, kind, stepMm, checkedOn: '2026-10-14', dueOn: '2099-01-01' }).expect(201)
  await addEngine(screens, { maker: 'Ruskhammar', code: 'R449-4X' })
})

test('one crank goes from the counter to home through the screens, and its paper reads back', { timeout: 240_000 }, async () => {
  const counter = await signIn(screens, 'hana', PASSWORD)
  const { jobId, secret } = await bookIn(counter)
  const customer = await screens.open({ width: 390, height: 844 })
  await customer.page.goto(secret)
  await customer.page.getByText('Your crank is here. We measure it next.').waitFor()
  expect(await customer.page.locator('body').textContent()).not.toMatch(/Hollis|0161/)

  const bench = await signIn(screens, 'jonas', PASSWORD)
  await measure(bench, jobId)
  await agree(counter, jobId)
  await part(bench, jobId)
  await pressTogether(bench, jobId)
  await makeTrue(bench, jobId)

  const second = await signIn(screens, 'marek', PASSWORD)
  await readAgain(second, jobId)
  const pdf = await sign(second, jobId)
  const text = (await readPdf(pdf)).pages.map((page) => page.text).join('\n')
  for (const said of ['Certificate of runout', 'Kettle Row', 'Ruskhammar R449-4X', 'R4-20718', 'A-2417', 'within', 'Jonas', 'Marek'])
    expect(text).toContain(said)
  expect(text).not.toMatch(/Hollis/)
  const [qr] = await readCodes(pdf)
  await customer.page.goto(qr ?? '')
  await press({ ...customer, name: 'customer' }, 'Look it up')
  await customer.page.getByText('It stands.').waitFor()
  await customer.page.getByLabel('File of the sheet').setInputFiles({ name: 'sheet.pdf', mimeType: 'application/pdf', buffer: pdf })
  await customer.page.getByText('byte for byte').waitFor()

  await handOver(counter, jobId)
  await customer.page.goto(secret)
  await customer.page.getByText('Your crank has gone home.').waitFor()

  const owner = await signIn(screens, 'ewa', PASSWORD)
  await seeTheLine(owner, jobId)
  noFaults(counter, bench, second, owner, { ...customer, name: 'customer' })
})

async function part(bench: Someone, jobId: string): Promise<void> {
  const { page } = bench
  await page.goto(`/bench/${jobId}/part`)
  await page.getByText('nobody presses alone').first().waitFor()
  for (const [side, peak, mark] of [
    ['left', '95', 'L'],
    ['right', '52', 'R'],
  ] as const) {
    await keyIn(bench, [peak])
    await page.getByRole('radio', { name: 'clean' }).check()
    await page.getByRole('radio', { name: 'none seen' }).check()
    await page.getByLabel('Marked on this web').fill(mark)
    await press(bench, `Keep the ${side} web`)
    await page.getByRole('button', { name: `Keep the ${side} web` }).waitFor({ state: 'detached' })
  }
  await press(bench, 'It is apart')
  await page.getByText('to press together').first().waitFor()
}

/** Kit named, its pin and the bores measured, width in its window, side clearance, the peaks of the gauge, the oil hole. */
async function pressTogether(bench: Someone, jobId: string): Promise<void> {
  const { page } = bench
  await page.goto(`/bench/${jobId}/kit`)
  await page.getByRole('combobox', { name: 'Maker of the kit' }).fill('Ardenlow')
  await page.getByLabel('Part number').fill('R449-4X-K1')
  await page.getByLabel('Lot, from the rod or the bag').fill('A-2417')
  await page.getByRole('radio', { name: 'ours' }).check()
  await press(bench, 'Kit is in')
  await page.getByRole('button', { name: 'Kit is in' }).waitFor({ state: 'detached' })
  await takeSet(bench, jobId, 'pin', ['35012', '35012', '35012', '35012'])
  await takeSet(bench, jobId, 'bore', ['34903', '34903', '34902', '34903', '34900', '34900', '34901', '34900'])
  await page.goto(`/bench/${jobId}/press`)
  await page.getByRole('radio', { name: 'the peak of the gauge' }).click()
  await page.getByRole('region', { name: 'Webs at the press' }).waitFor()
  for (const [side, peak] of [
    ['left', '91'],
    ['right', '89'],
  ] as const) {
    await keyIn(bench, [peak])
    await page.getByLabel('Oil or paste').fill('oil')
    await press(bench, `Keep the ${side} web`)
    await page.getByRole('button', { name: `Keep the ${side} web` }).waitFor({ state: 'detached' })
  }
  await takeSet(bench, jobId, 'width', ['64000', '64010', '64000', '63990'])
  await takeSet(bench, jobId, 'clearance', ['36', '36'])
  await page.goto(`/bench/${jobId}/press`)
  await page
    .getByRole('radio', { name: /open|lined up/ })
    .first()
    .check()
  await page.getByRole('region', { name: 'Oil hole of the pin' }).getByRole('button').last().click()
  await press(bench, 'Width is set')
  await page.getByText('to true').first().waitFor()
}

/** Read, struck as the sum says, read again; width and side clearance after the last blow. */
async function makeTrue(bench: Someone, jobId: string): Promise<void> {
  const { page } = bench
  await page.goto(`/bench/${jobId}/true`)
  await press(bench, /^(Start|Now) truing$/)
  await readBothEnds(bench, [0, 61, 0, -61, 0], [0, -68, 0, 68, 0])
  await page.getByText('Strike the right web at mark 3').first().waitFor()
  await page
    .getByText(/Dials back/)
    .first()
    .waitFor()
  await press(bench, 'Struck, light')
  await readBothEnds(bench, [0, 5, 1, -5, 0], [0, -6, 1, 6, 0])
  await page.getByText('Next: width at four places').waitFor()
  await takeSet(bench, jobId, 'width', ['64000', '64010', '64000', '63990'])
  await takeSet(bench, jobId, 'clearance', ['36', '36'])
  await page.goto(`/bench/${jobId}/true`)
  await press(bench, 'It is true')
  await page.getByText('second check').first().waitFor()
  await press(bench, 'Stop')
}

/** Over the counter: who, what, why, what came with it; then the tag, and the customer's own page. */
async function bookIn({ page }: Someone): Promise<{ jobId: string; secret: string }> {
  await page.goto('/counter')
  await page.getByRole('link', { name: 'Book one in' }).first().click()
  await page.getByLabel('Name', { exact: true }).fill('Hollis, A.')
  await page.getByRole('textbox', { name: 'Phone' }).fill('0161 496 0318')
  await page.getByLabel('Engine', { exact: true }).fill('R449')
  await page.getByRole('option', { name: /Ruskhammar R449-4X/ }).click()
  await page.getByLabel('Engine or crank number').fill('R4-20718')
  await page.getByLabel('Hours on this crank').fill('61')
  await page.getByRole('radio', { name: 'off a meter', exact: true }).check()
  await page.getByRole('radio', { name: 'knock', exact: true }).check()
  await page.getByRole('checkbox', { name: /^keys/ }).check()
  await page.keyboard.press('Control+Enter')
  await page.waitForURL(/\/jobs\/[0-9a-f-]+\/tagged$/)
  await page.getByRole('button', { name: 'Make the secret address' }).click()
  const secret = await page.getByLabel('Secret address').inputValue()
  return { jobId: /\/jobs\/([0-9a-f-]+)\//.exec(page.url())?.[1] ?? '', secret }
}

/** As received: nearly all swing, webs a little open, play in the big end. */
async function measure(bench: Someone, jobId: string): Promise<void> {
  await bench.page.goto(`/bench/${jobId}`)
  await press(bench, 'Start measuring')
  await takeSet(bench, jobId, 'width', ['63990', '64010', '64060', '64000'])
  await takeSet(bench, jobId, 'play', ['60', LEFT_OUT])
  await bench.page.goto(`/bench/${jobId}/read/runout`)
  await readBothEnds(bench, [0, 90, 30, -90, 0], [0, -100, 30, 100, 0])
  await bench.page.goto(`/bench/${jobId}`)
  await press(bench, 'Measured')
  await bench.page.getByText('to agree', { exact: false }).first().waitFor()
}

async function agree({ page }: Someone, jobId: string): Promise<void> {
  await page.goto(`/jobs/${jobId}`)
  await page.getByRole('button', { name: 'Write a quote' }).click()
  await page.getByLabel('What it is for, as the customer reads it').fill('Rebuild with a new rod kit, both mains new')
  await page.getByLabel('Total with tax').fill('412.00')
  await page.getByRole('button', { name: 'Ask for a yes' }).click()
  await page.getByRole('button', { name: /^Yes to/ }).click()
  await page.getByLabel('Who said yes').fill('A. Hollis')
  await page.getByRole('radio', { name: 'by phone', exact: true }).check()
  await page.getByRole('button', { name: 'They said yes' }).click()
  await page.getByRole('button', { name: 'It is agreed' }).click()
  await page.getByText('to part').first().waitFor()
}

/** Under the second person's own sign-in, the first reading hidden until theirs is in. */
async function readAgain(second: Someone, jobId: string): Promise<void> {
  const { page } = second
  await page.goto(`/bench/${jobId}/check`)
  await page.getByRole('group', { name: 'Keypad' }).waitFor()
  expect(await page.locator('main').textContent()).not.toMatch(/0\.01[012]/)
  await readBothEnds(second, [0, 6, 1, -6, 0], [0, -6, 0, 6, 0])
  await page.getByRole('link', { name: 'To the certificate' }).click()
}

async function sign(second: Someone, jobId: string): Promise<Buffer> {
  const { page } = second
  await page.waitForURL(`**/bench/${jobId}/sign`)
  await page
    .getByText(/the left end swung/)
    .first()
    .waitFor()
  await press(second, 'Sign it')
  const open = page.getByRole('link', { name: /^Open No\. \d+, A4$/ })
  await open.waitFor()
  const answer = await page.request.get((await open.getAttribute('href')) ?? '')
  expect(answer.headers()['content-type']).toBe('application/pdf')
  return answer.body()
}

async function handOver(counter: Someone, jobId: string): Promise<void> {
  const { page } = counter
  await page.goto(`/jobs/${jobId}/hand-over`)
  const ticks = page.getByRole('checkbox', { name: /^All of it goes back/ })
  await ticks.first().waitFor()
  for (const tick of await ticks.all()) await tick.check()
  await press(counter, 'Box is checked')
  await press(counter, 'Take money')
  await page.getByRole('radio', { name: 'payment', exact: true }).check()
  await page.getByRole('textbox', { name: 'Amount' }).fill('412.00')
  await page.getByRole('radio', { name: 'card', exact: true }).check()
  await press(counter, 'It is taken')
  await press(counter, 'It is gone')
  await page.waitForURL(`**/jobs/${jobId}`)
}

/** The new crank is a point on Jonas's line, and the point opens its crank. */
async function seeTheLine(owner: Someone, jobId: string): Promise<void> {
  const { page } = owner
  await page.goto('/office')
  await page.getByRole('link', { name: /^Jonas/ }).click()
  await page.getByText('Seen by', { exact: false }).first().waitFor()
  const point = page.locator(`svg a[href*="${jobId}"]`)
  await point.waitFor()
  const line = (await (
    await page.request.get(`/api${new URL(page.url()).pathname.replace('/office/learning', '/people')}/learning`)
  ).json()) as PersonLearning
  expect(line.points).toMatchObject([{ jobId, n: 1 }])
  await point.click()
  await page.waitForURL(`**/jobs/${jobId}`)
}
