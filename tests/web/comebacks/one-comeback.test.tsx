import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Comeback } from '#contract/comebacks.ts'
import type { Role } from '#contract/people.ts'
import { asTheBenchReads, REPORT, report } from '#tests/web/comebacks/sample-comeback.ts'
import { ID } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  vi.useRealTimers()
  closeAll()
})

const AT = `/api/comebacks/${REPORT}`

function comebackBook(role: Role, stands: Comeback = report): ShopBook {
  const book = shopBook(role)
  const shown = role === 'bench' ? asTheBenchReads(stands) : stands
  book.answer('GET /api/comebacks/:id', () => shown)
  book.answer('GET /api/comebacks/:id/same-lot', () => ({ rows: [], next: null, kit: stands.kit, gone: 1, back: 1 }))
  return book
}

async function open() {
  openAt(`/office/comebacks/${REPORT}`)
  await screen.findByRole('heading', { level: 1, name: '265-P came back' })
}

const part = (name: string) => screen.getByRole('region', { name })

test('our sheet of then stands beside what it reads now, and who else has the lot with how to reach them', async () => {
  const book = comebackBook('owner')
  book.answer('GET /api/comebacks/:id/same-lot', ({ query }) => ({
    kit: report.kit,
    gone: 3,
    back: 1,
    rows: [
      query.get('after') === null
        ? {
            id: ID.job,
            tag: '273-P',
            state: 'gone',
            engine: 'Ruskhammar R124-X',
            kitWhose: 'ours',
            goneOn: '2026-07-13',
            stillOut: true,
            lastHeard: { day: '2026-08-10', runs: true, hours: 9 },
            whose: 'Łuczakowicz, B.',
            phone: '030 23125 109',
          }
        : { id: ID.crank, tag: '330-D', state: 'apart', engine: 'Ruskhammar R124-X', kitWhose: 'theirs', stillOut: false },
    ],
    next: query.get('after') === null ? '273' : null,
  }))
  await open()
  const sheet = part('Our sheet then')
  expect(within(sheet).getByRole('link', { name: 'Certificate 0018' }).getAttribute('href')).toBe(
    `/api/certificates/${report.sheet!.id}/paper.pdf`,
  )
  expect(within(sheet).getByRole('row', { name: /Left end, full swing 0.018 ± 0.005 .*0.020.* 0.080 ▲ not as it left/ })).toBeTruthy()
  expect(sheet.textContent).toContain('Stellmarch R124-X K2, lot S-0936, ours')
  const lot = await screen.findByRole('region', { name: 'Who else has the lot' })
  await within(lot).findByText(/1 of 3 came back/)
  expect(within(lot).getByRole('link', { name: '030 23125 109' }).getAttribute('href')).toBe('tel:03023125109')
  expect(lot.textContent).toContain('went home Mon 13 Jul, still out')
  expect(lot.textContent).toContain('heard Mon 10 Aug: runs well at 9 h')
  fireEvent.click(within(lot).getByRole('button', { name: 'Show more' }))
  await within(lot).findByText('in the house, apart')
})

test('the bench writes what it finds, reads no names and decides nothing', async () => {
  const book = comebackBook('bench')
  book.answer('PATCH /api/comebacks/:id', () => ({ ...asTheBenchReads(report), found: ['cage-broken'], version: 2 }))
  await open()
  expect(document.querySelector('main')?.textContent).not.toMatch(/Hollis|0161/)
  expect(within(part('What is decided')).queryByRole('button')).toBeNull()
  const found = part('What was found')
  fireEvent.click(within(found).getByRole('button', { name: 'Write down what you find' }))
  expect(found.textContent).toContain('better by somebody other than Jonas, who built it')
  fireEvent.click(within(found).getByLabelText('cage broken'))
  fireEvent.click(within(found).getByLabelText('nothing wrong found'))
  expect(found.textContent).toContain('Nothing wrong found and cage broken cannot both be.')
  fireEvent.click(within(found).getByRole('button', { name: 'That is what is found' }))
  expect(book.sent('PATCH', AT)).toHaveLength(0)
  fireEvent.click(within(found).getByLabelText('nothing wrong found'))
  fireEvent.change(within(found).getByLabelText('In words, or why nothing can be looked at'), { target: { value: 'silver on the rod ' } })
  fireEvent.click(within(found).getByRole('button', { name: 'That is what is found' }))
  await waitFor(() => expect(book.sent('PATCH', AT)).toHaveLength(1))
  const [sent] = book.sent('PATCH', AT)
  expect(sent?.body).toEqual({ found: ['cage-broken'], foundNote: 'silver on the rod' })
  expect(sent?.headers.get('if-match')).toBe('"1"')
})

test('the owner decides only after it was looked at, both halves together', async () => {
  const book = comebackBook('owner')
  await open()
  const before = part('What is decided')
  expect(before.textContent).toContain('Decided after looking')
  expect(within(before).queryByRole('button')).toBeNull()
  closeAll()

  const looked = {
    ...report,
    found: ['cage-broken'] as Comeback['found'],
    lookedBy: 'Jonas',
    lookedAt: '2026-11-24T10:00:00Z',
    lookedByBuilder: true,
  }
  const again = comebackBook('owner', looked)
  again.answer('PATCH /api/comebacks/:id', () => ({ ...looked, cause: 'kit', share: 'part', version: 2 }))
  await open()
  expect(part('What was found').textContent).toContain('who built it; better somebody else reads it too')
  const decided = part('What is decided')
  fireEvent.click(within(decided).getByRole('button', { name: 'Decide it' }))
  fireEvent.click(within(decided).getByLabelText('nothing found'))
  fireEvent.click(within(decided).getByLabelText('the part’s'))
  fireEvent.click(within(decided).getByRole('button', { name: 'It is decided' }))
  expect(decided.textContent).toContain('Something was found, so the cause is not that nothing was.')
  fireEvent.click(within(decided).getByLabelText('the kit'))
  expect(decided.textContent).toContain('a claim to the seller of the kit')
  fireEvent.click(within(decided).getByRole('button', { name: 'It is decided' }))
  await waitFor(() => expect(again.sent('PATCH', AT)).toHaveLength(1))
  expect(again.sent('PATCH', AT)[0]?.body).toEqual({ cause: 'kit', share: 'part' })
  expect(book.sent('PATCH', AT)).toHaveLength(0)
})

test('what somebody else wrote meanwhile is set beside it; what is typed stays and goes at the new version', async () => {
  const book = comebackBook('owner')
  const now = { ...report, thought: 'lean', version: 4 }
  let tries = 0
  book.answer('PATCH /api/comebacks/:id', () => {
    tries += 1
    if (tries > 1) return { ...now, version: 5 }
    book.answer('GET /api/comebacks/:id', () => now)
    return refusal('stale-version', { version: 4 })
  })
  await open()
  const thought = part('What is thought')
  fireEvent.click(within(thought).getByRole('button', { name: 'Write what you think' }))
  fireEvent.change(within(thought).getByLabelText('What you think of it'), { target: { value: 'side load' } })
  fireEvent.click(within(thought).getByRole('button', { name: 'Write it so' }))
  const alert = await within(thought).findByRole('alert')
  expect(alert.textContent).toContain('Now stands: lean.')
  expect((within(thought).getByLabelText('What you think of it') as HTMLTextAreaElement).value).toBe('side load')
  fireEvent.click(within(thought).getByRole('button', { name: 'Write it so' }))
  await waitFor(() => expect(tries).toBe(2))
  expect(book.sent('PATCH', AT).map((one) => one.headers.get('if-match'))).toEqual(['"1"', '"4"'])
})

test('the counter corrects what was reported and strikes it out with a reason', async () => {
  const book = comebackBook('counter')
  book.answer('PATCH /api/comebacks/:id', () => report)
  book.answer('POST /api/comebacks/:id/strike', () => report)
  await open()
  const said = part('What was reported')
  expect(said.textContent).toContain('It counts as a comeback')
  expect(within(part('What was found')).queryByRole('button')).toBeNull()
  fireEvent.click(within(said).getByRole('button', { name: 'Correct what was reported' }))
  fireEvent.change(within(said).getByLabelText('Hours since it went home, h'), { target: { value: '' } })
  fireEvent.click(within(said).getByRole('button', { name: 'Write it so' }))
  expect(within(said).getAllByText('How many hours? Where nobody knows, choose unknown.').length).toBeGreaterThan(0)
  fireEvent.click(within(said).getByLabelText('unknown'))
  fireEvent.click(within(said).getByRole('button', { name: 'Write it so' }))
  await waitFor(() => expect(book.sent('PATCH', AT)).toHaveLength(1))
  expect(book.sent('PATCH', AT)[0]?.body).toEqual({ day: '2026-11-24', hours: null, hoursHow: 'unknown', says: 'knocks when warm' })
  fireEvent.click(within(said).getByRole('button', { name: 'Strike it out' }))
  fireEvent.change(within(said).getByLabelText('Why is this report struck out?'), { target: { value: 'another crank' } })
  fireEvent.click(within(said).getAllByRole('button', { name: 'Strike it out' }).at(-1)!)
  await waitFor(() => expect(book.sent('POST', `${AT}/strike`)[0]?.body).toEqual({ reason: 'another crank' }))
})

test('a report that is not there is told', async () => {
  shopBook('owner')
  openAt(`/office/comebacks/${REPORT}`)
  await screen.findByText(/The report could not be fetched/)
})
