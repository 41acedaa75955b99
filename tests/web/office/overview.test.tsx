import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { officeBook, openedToday, rowsOf } from '#tests/web/office/office-book.ts'
import { comebacks, earning, flow, LOT } from '#tests/web/office/sample-office.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  closeAll()
  vi.useRealTimers()
})

async function section(name: string) {
  return within(await screen.findByRole('region', { name }))
}

describe('the figures', () => {
  test('in and out: the picture, its table and the sentence carry the same numbers', async () => {
    officeBook()
    openAt('/office')
    const flowing = await section('In and out, by week')
    expect(await flowing.findByRole('img', { name: /12 weeks: 85 in, 84 out; last, week 48, from Mon 23 Nov: 7 in, 6 out/ })).toBeTruthy()
    const rows = rowsOf(flowing.getByRole('table', { name: 'In and out, by week', hidden: true })).slice(1)
    expect(rows.map((row) => Number(row[1]))).toEqual(flow.weeks.map((week) => week.in))
    expect(rows.map((row) => Number(row[2]))).toEqual(flow.weeks.map((week) => week.out))
    expect(flowing.getByText(/^In the house/).textContent).toMatch(
      /^In the house 14\. Half are home in 9 days, 17 in 20 in 16\. In hand = per day × days here: 1\.4 × 9\.8 = 13\.7\./,
    )
    expect(flowing.getByRole('link', { name: '14' }).getAttribute('href')).toBe('/office/cranks?figure=house')
    expect(flowing.getByText(/Rule of flow\./)).toBeTruthy()
  })

  test('a lot that is not chance is said with the mark and leads to who has its cranks', async () => {
    officeBook()
    openAt('/office')
    const back = await section('What came back, last 12 months')
    expect((await back.findByText('Stellmarch lot S-0936 is not chance')).className).toBe('over')
    expect(back.getByText(/is not chance/).parentElement?.textContent).toBe(
      'Stellmarch lot S-0936 is not chance (1 in 2,600 by chance). 10 of its cranks are still out. Who has them',
    )
    expect(back.getByRole('link', { name: 'Who has them' }).getAttribute('href')).toBe(`/office/cranks?figure=still-out&lot=${LOT}`)
    expect(rowsOf(back.getByRole('table')).slice(1)).toEqual([
      ['All', '288', '9', '3.1 1.7 to 5.8'],
      ['Stellmarch lot S-0936', '14', '4', '29 12 to 55'],
      ['All kits but Stellmarch lot S-0936', '274', '5', '1.8 0.8 to 4.2'],
      ['Stellmarch lot S-0940', '60', '2', '3.3 0.9 to 11'],
    ])
    expect(back.getByText(/10 of the 288 went home less than 12 months ago\. Rule of the lots\. Lots looked at: 12\./)).toBeTruthy()
  })

  test('without such a lot nothing is marked, and one line runs for all kits', async () => {
    const book = officeBook()
    book.answer('GET /api/office/comebacks', () => comebacks('lot', { rows: comebacks().rows.slice(1) }))
    openAt('/office')
    const runs = await section('Still running, by hours ridden')
    expect(await runs.findByRole('img', { name: /all kits 96\.5 at 93 h\.$/ })).toBeTruthy()
    expect(screen.queryByText(/not chance/)).toBeNull()
    expect(book.sent('GET', '/api/office/running')[0]?.query.get('lot')).toBeNull()
  })

  test('the lot that is not chance runs dashed beside all others, and the table has the same', async () => {
    officeBook()
    openAt('/office')
    const runs = await section('Still running, by hours ridden')
    const picture = await runs.findByRole('img', { name: /lot S-0936 46\.4 at 63 h; all other kits 96\.5 at 93 h/ })
    expect(
      Array.from(picture.querySelectorAll('[data-curve] > path:first-child'), (path) => path.getAttribute('stroke-dasharray')),
    ).toEqual(['7 5', null])
    const rows = rowsOf(runs.getByRole('table', { hidden: true })).slice(1)
    expect(rows.map((row) => row.slice(0, 3))).toEqual([
      ['lot S-0936', '0', '100.0'],
      ['lot S-0936', '22', '92.9'],
      ['lot S-0936', '63', '46.4'],
      ['all other kits', '0', '100.0'],
      ['all other kits', '18', '99.6'],
      ['all other kits', '77', '96.5'],
    ])
    expect(runs.getByText(/lot S-0936: .* 4 came back, half still run at 63 h\./)).toBeTruthy()
    expect(runs.getByText(/2 came back, 1 more at hours nobody knows, left out, 31 never heard of\./)).toBeTruthy()
  })

  test('true at first check in counts, by person and by month', async () => {
    officeBook()
    openAt('/office')
    const check = await section('True at first check, last 12 months')
    expect(rowsOf(await check.findByRole('table', { name: 'True at first check, by person' })).slice(1)).toEqual([
      ['All', '81 of 103', '70 to 86'],
      ['Marek', '55 of 60', '82 to 96'],
      ['Jonas', '26 of 43', '46 to 74'],
    ])
    expect(rowsOf(check.getByRole('table', { name: 'True at first check, by month', hidden: true })).slice(1)).toEqual([
      ['October 2026', '9', '12'],
      ['November 2026', '0', '0'],
    ])
  })

  test('what earns, the least for an hour first', async () => {
    officeBook()
    openAt('/office')
    const earns = await section('What earns, last 12 months')
    expect(rowsOf(await earns.findByRole('table', { name: 'What earns, by engine' }))).toEqual([
      ['', 'cranks', 'h a crank', 'price', 'EUR an hour'],
      ['All', '200', '2.5', '343.33', '139.57'],
      ['Velk F124', '22', '3.8', '290.00', '76.32 55 %'],
      ['Ruskhammar R449-4X', '178', '2.3', '350.00', '152.17 109 %'],
    ])
  })
})

describe('the address', () => {
  test('what the rows are by stands in it, and the back button steps through', async () => {
    const book = officeBook()
    const { router } = openAt('/office')
    const back = await section('What came back, last 12 months')
    await back.findByRole('row', { name: /^All kits but/ })
    fireEvent.click(back.getByRole('radio', { name: 'causes' }))
    expect(await back.findByRole('row', { name: /^the kit 288 4/ })).toBeTruthy()
    expect(router.state.location.search).toBe('?by=cause')
    // The lot is still said, whatever the rows are by.
    expect(back.getByText('Stellmarch lot S-0936 is not chance')).toBeTruthy()
    fireEvent.click(back.getByRole('radio', { name: 'persons' }))
    await waitFor(() => expect(router.state.location.search).toBe('?by=person'))
    await router.navigate(-1)
    await waitFor(() => expect((back.getByRole('radio', { name: 'causes' }) as HTMLInputElement).checked).toBe(true))
    await router.navigate(-1)
    expect(await back.findByRole('row', { name: /^All kits but/ })).toBeTruthy()
    expect(router.state.location.search).toBe('')
    expect(new Set(book.sent('GET', '/api/office/comebacks').map((asked) => asked.query.get('by')))).toEqual(
      new Set(['lot', 'cause', 'person']),
    )
  })
})

describe('states', () => {
  test('a shop that opened today says so in sentences', async () => {
    openedToday()
    openAt('/office')
    for (const words of [
      'Nothing is late.',
      'Promised this week: none. Bench hours free: 25.6 h.',
      'Nothing waits for a kit, a yes or somebody outside.',
      'Nothing is ready and not fetched.',
      'No instrument is due for its check within a week.',
      'No deposit is held.',
      'No crank has come in yet. Each week gets its two bars from the first one on.',
      'No crank has gone home yet.',
      'No crank has gone home with a kit yet, so none is out running.',
      'No crank has been read by a second person in these days.',
      'No rebuilt crank with bench hours and an agreed price went home in these days.',
    ]) {
      expect(await screen.findByText(words)).toBeTruthy()
    }
    expect(screen.getByText('Book never proven restorable').className).toBe('over')
    expect(screen.queryByRole('alert')).toBeNull()
    expect(screen.queryByRole('img')).toBeNull()
    expect(screen.getByRole('main').textContent).not.toMatch(/NaN|undefined|Infinity/)
  })

  test('a figure that could not be fetched says so with a way to ask again, and the others stand', async () => {
    const book = officeBook()
    let down = true
    book.answer('GET /api/office/earning', () => (down ? refusal('internal') : earning))
    openAt('/office')
    const earns = await section('What earns, last 12 months')
    expect((await earns.findByRole('alert')).textContent).toMatch(/What earns could not be fetched\./)
    expect(await screen.findByText('5 late')).toBeTruthy()
    down = false
    fireEvent.click(earns.getByRole('button', { name: 'Try again' }))
    expect(await earns.findByRole('table', { name: 'What earns, by engine' })).toBeTruthy()
  })

  test('somebody who is not the owner asks nothing of the office', async () => {
    const book = shopBook('bench')
    openAt('/office')
    expect(await screen.findByRole('link', { name: 'Your own learning line' })).toBeTruthy()
    expect(book.asked.filter((asked) => asked.path.startsWith('/api/office'))).toEqual([])
  })
})
