import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import { crank, looked, TOKEN } from '#tests/web/certificates/sample-sheets.ts'
import { type FakeBook, fakeBook, openAt, posts, Refusal } from '#tests/web/truing/fake-book.tsx'
import { CheckCertificatePage } from '#web/pages/check-certificate.tsx'
import { YourCrankPage } from '#web/pages/your-crank.tsx'

afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

const CHECK = '/api/public/check'
/** SHA-256 of “abc”, FIPS 180-4, appendix B.1 of FIPS 180-2. */
const ABC = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'

function book(answer: unknown): FakeBook {
  return fakeBook(null, { [`POST ${CHECK}`]: answer })
}

function openCheck(query = '') {
  openAt(`/check${query}`, { '/check': CheckCertificatePage }, true)
}

function drop(text: string, name = 'sheet-0412.pdf') {
  fireEvent.change(screen.getByLabelText('File of the sheet'), { target: { files: [new File([text], name, { type: 'application/pdf' })] } })
}

test('scanned off the sheet: number and code are there and looked up once without a press', async () => {
  const asked = book(looked)
  openCheck('?number=0412&code=7K4M-9QTX')
  expect(await screen.findByText('It stands.')).toBeTruthy()
  expect(posts(asked, CHECK).map((one) => one.body)).toEqual([{ number: '0412', code: '7K4M-9QTX' }])
  expect(screen.getByLabelText<HTMLInputElement>('Number of the sheet').value).toBe('0412')
  const rows = within(screen.getByRole('table', { name: /Figures of sheet 0412/ })).getAllByRole('row')
  expect(rows[1]?.textContent).toBe('Left end, full swing0.0120.020within')
})

test('nothing is asked before both are there, and a code that can be none is said at once', async () => {
  const asked = book(looked)
  openCheck()
  fireEvent.click(screen.getByRole('button', { name: 'Look it up' }))
  expect(screen.getByText('The number stands at the head of the sheet.')).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Number of the sheet'), { target: { value: '412' } })
  fireEvent.change(screen.getByLabelText('Check code'), { target: { value: '7K4M' } })
  fireEvent.click(screen.getByRole('button', { name: 'Look it up' }))
  expect(screen.getByText(/eight signs in two groups/)).toBeTruthy()
  expect(posts(asked, CHECK)).toEqual([])
  fireEvent.change(screen.getByLabelText('Check code'), { target: { value: '7k4m9qtx' } })
  fireEvent.click(screen.getByRole('button', { name: 'Look it up' }))
  expect(await screen.findByText('It stands.')).toBeTruthy()
})

test.each([
  ['replaced', 'It is replaced.', 'This sheet was replaced by 0413 on 4 December 2026. Ask for that one.'],
  ['void', 'It is void.', 'This sheet was made void on 4 December 2026: it fell off the bench.'],
] as const)('a sheet that is %s says so first', async (standing, word, standingSays) => {
  book({ ...looked, standing, standingSays })
  openCheck('?number=0412&code=7K4M-9QTX')
  expect(await screen.findByText(word)).toBeTruthy()
  expect(screen.getByText(standingSays)).toBeTruthy()
})

test('an unknown number or code, and too many tries, in plain words', async () => {
  const asked = book(new Refusal('not-found', { detail: 'none' }))
  openCheck('?number=0999&code=7K4M-9QTX')
  expect((await screen.findByRole('alert')).textContent).toMatch(/No sheet of this shop has this number with this check code/)
  asked.answers.set(`POST ${CHECK}`, new Refusal('rate-limited', { detail: 'too often' }))
  fireEvent.click(screen.getByRole('button', { name: 'Look it up' }))
  await waitFor(() => expect(screen.getByRole('alert').textContent).toMatch(/too often/))
})

test('a file dropped in is worked out here, and only its fingerprint is asked for', async () => {
  const asked = book({ ...looked, files: [ABC] })
  openCheck()
  drop('abc')
  expect(await screen.findByText(/sheet-0412\.pdf is the very file that was drawn of this sheet/)).toBeTruthy()
  expect(posts(asked, CHECK).map((one) => one.body)).toEqual([{ sha256: ABC }])
})

test('a file beside a sheet already looked up is compared with that one', async () => {
  const asked = book({ ...looked, files: [ABC] })
  openCheck('?number=0412&code=7K4M-9QTX')
  await screen.findByText('It stands.')
  drop('abd', 'changed.pdf')
  expect(await screen.findByText('changed.pdf is not the file that was drawn.')).toBeTruthy()
  expect(posts(asked, CHECK)).toHaveLength(1)
})

test('a file that this shop never drew is not called false: number and code are asked for', async () => {
  book(new Refusal('not-found', { detail: 'none' }))
  openCheck()
  drop('something else')
  expect((await screen.findByRole('alert')).textContent).toMatch(/very file was not drawn by this shop.*number and check code instead/)
})

test('where the page came by plain http no file can be compared, and it says so', () => {
  vi.stubGlobal('crypto', { getRandomValues: crypto.getRandomValues.bind(crypto) })
  book(looked)
  openCheck()
  expect(screen.getByText(/came without encryption \(http\)\. Look the sheet up by its number and check code/)).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'Choose the file' })).toBeNull()
})

function openCrank(answer: unknown) {
  const asked = fakeBook(null, { [`GET /api/public/crank/${TOKEN}`]: answer })
  openAt(`/crank/${TOKEN}`, { '/crank/:token': YourCrankPage }, true)
  return asked
}

test('your crank: where it is, what it waits for, the promise, what we found, the yes, photos', async () => {
  openCrank(crank)
  expect(await screen.findByRole('heading', { name: 'Your crank is apart.' })).toBeTruthy()
  expect(screen.getByText('We wait for its rod kit, due 26 November 2026.')).toBeTruthy()
  expect(screen.getByText(/^Thursday 3 December/)).toBeTruthy()
  expect(screen.getByText(/0\.06 mm of play where 0\.05 is allowed/)).toBeTruthy()
  expect(screen.getByText('You said yes to 412.00 EUR with tax on 23 November 2026.')).toBeTruthy()
  expect(screen.getByRole('heading', { name: 'Photos we took (2)' })).toBeTruthy()
  expect(screen.getByRole('img', { name: 'the rod as it came' }).getAttribute('src')).toBe(
    `/api/public/crank/${TOKEN}/photos/0198f3a0-0000-7000-8000-000000000b01`,
  )
  expect(screen.getByRole('img', { name: 'Photo 2 of your crank' })).toBeTruthy()
  // The step that comes next is said as an act, never as if it were reached.
  expect(screen.getByRole('img', { name: 'Done: apart. Next: to press together, waiting.' })).toBeTruthy()
})

test('your crank stays out of the lists of search engines while it is open, and asks for no sign-in', async () => {
  const asked = openCrank(crank)
  await screen.findByRole('heading', { name: 'Your crank is apart.' })
  expect(document.head.querySelector('meta[name="robots"]')?.getAttribute('content')).toBe('noindex, nofollow')
  expect(asked.sent.map((one) => one.path)).toEqual([`/api/public/crank/${TOKEN}`])
  cleanup()
  expect(document.head.querySelector('meta[name="robots"]')).toBeNull()
})

test('a signed crank leads to its sheet', async () => {
  openCrank({ ...crank, state: 'signed', headline: 'It is ready.', waiting: [], certificate: { number: '0412', checkCode: '7K4M-9QTX' } })
  expect((await screen.findByRole('link', { name: 'Look the sheet up' })).getAttribute('href')).toBe('/check?number=0412&code=7K4M-9QTX')
})

test('a state that this page does not know leaves the strip out and keeps the sentence', async () => {
  openCrank({ ...crank, state: 'somewhere-new', headline: 'Your crank is on its way.' })
  expect(await screen.findByRole('heading', { name: 'Your crank is on its way.' })).toBeTruthy()
  expect(screen.queryByRole('img', { name: /^Done:/ })).toBeNull()
})

test('a link that leads nowhere', async () => {
  openCrank(new Refusal('not-found'))
  expect(await screen.findByText(/This link leads to no crank/)).toBeTruthy()
})
