import { expect, test } from 'vitest'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { job, row } from '#tests/web/jobs/sample-job.ts'
import { pressedWords } from '#web/features/jobs/job-head.tsx'
import { tellSentence } from '#web/features/jobs/tell.ts'
import { hoursWords, lateWords, waitsShort, whereWords, whyItStands } from '#web/features/jobs/words.ts'

const here = { zone: 'UTC', currency: 'EUR' }
const TODAY = '2026-11-24'

test('why it stands says what for, since when and until when', () => {
  expect(whyItStands(row, here, TODAY)).toEqual(['waiting for kit, since Mon 23 Nov, due Thu 26 Nov'])
  expect(waitsShort(row.waiting, TODAY)).toBe('waits for kit, due Thu 26 Nov')
})

test('an open quote is waited for by its total, once', () => {
  const asked = {
    ...row,
    waiting: [{ what: 'yes' as const, since: '2026-11-20T09:00:00Z' }],
    asked: 26_800,
    askedOn: '2026-11-20T09:00:00Z',
  }
  expect(whyItStands(asked, here, TODAY)).toEqual(['waiting for a yes to 268.00, asked Fri 20 Nov'])
})

test('ready to go home says since when and what is to pay', () => {
  const ready = { ...row, state: 'signed' as const, waiting: [], readySince: '2026-11-20T16:00:00Z', owes: 18_200 }
  expect(whyItStands(ready, here, TODAY)).toEqual(['since Fri 20 Nov, 182.00 to pay'])
})

test('days late are counted with their word, and whether they were told', () => {
  expect(lateWords({ daysLate: 1, toldLate: false })).toBe('1 day late')
  expect(lateWords({ daysLate: 3, toldLate: true })).toBe('3 days late, told')
})

test('where, who and money in one breath; paid goes before a deposit', () => {
  expect(whereWords({ place: 'rack A', holder: 'Marek', owes: 31_200, deposit: 10_000 }, here)).toBe('rack A · Marek · deposit 100.00')
  expect(whereWords({ place: 'shelf 3', owes: 0, deposit: 10_000 }, here)).toBe('shelf 3 · paid')
  expect(whereWords({}, here)).toBe('')
})

test('hours say how they are known', () => {
  expect(hoursWords(61, 'metered')).toBe('61 h read off the owner’s meter')
  expect(hoursWords(120, 'declared')).toBe('120 h as declared')
  expect(hoursWords(undefined, 'unknown')).toBe('hours not known')
})

test('how often the webs were pressed, apart where the two differ', () => {
  expect(pressedWords({ ...job.crank, pressedHere: { left: 0, right: 0 } })).toBe('pressed once, by the maker')
  expect(pressedWords(job.crank)).toBe('pressed once, by the maker, and here once')
  expect(pressedWords({ ...job.crank, pressedHere: { left: 2, right: 1 } })).toBe('pressed once, by the maker, and here left 2, right 1')
})

const shop = {
  currency: 'EUR',
  shopName: 'Kettle Row',
  storageDays: 45,
  texts: { ready: FIRST_SETTINGS.tellReady, yes: FIRST_SETTINGS.tellYes, late: FIRST_SETTINGS.tellLate },
}

test('the sentence to tell says where it is, what holds it up, and when', () => {
  expect(tellSentence(job, shop, TODAY)).toBe('Your crank 318-V is apart, we wait for the rod kit until Thu 26 Nov. We promised Thu 3 Dec.')
  const open = { ...job, quotes: job.quotes?.map(({ yes: _yes, ...quote }) => quote) ?? [], waiting: [] }
  expect(tellSentence({ ...open, state: 'measured' }, shop, TODAY)).toBe(
    'Your crank 318-V is measured, we wait for your yes to 412.00 EUR. We promised Thu 3 Dec.',
  )
  const { promisedOn: _promised, ...unpromised } = open
  expect(tellSentence({ ...unpromised, state: 'measured' }, shop, TODAY)).toBe(
    'Your crank 318-V is measured, we wait for your yes to 412.00 EUR.',
  )
  const late = { ...job, waiting: [], late: true, daysLate: 1, promisedOn: '2026-11-23' }
  expect(tellSentence(late, shop, TODAY)).toBe('Your crank 318-V is apart. It is late, for which we are sorry; we said Mon 23 Nov.')
  expect(tellSentence({ ...late, waiting: job.waiting }, shop, TODAY)).toBe(
    'Your crank 318-V is apart, we wait for the rod kit until Thu 26 Nov. It is late, for which we are sorry; we said Mon 23 Nov.',
  )
  const ready = { ...job, state: 'signed' as const, waiting: [] }
  expect(tellSentence(ready, shop, TODAY)).toBe('Your crank 318-V is ready to go home, 312.00 EUR to pay.')
  expect(tellSentence({ ...ready, owes: 0 }, shop, TODAY)).toBe('Your crank 318-V is ready to go home.')
})

test('the shop’s own texts are what is told', () => {
  const texts = { ready: '{shop}: {tag} is true[, bring {amount}]. {days} days.', yes: 'Yes to {amount}?', late: '{tag} by {date}: {wait}' }
  const ours = { ...shop, texts }
  expect(tellSentence({ ...job, state: 'signed', owes: 0 }, ours, TODAY)).toBe('Kettle Row: 318-V is true. 45 days.')
  expect(tellSentence({ ...job, late: true, waiting: [] }, ours, TODAY)).toBe('318-V by Thu 3 Dec: not known')
})
