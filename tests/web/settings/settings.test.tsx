import { fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { FIRST_SETTINGS, settings } from '#contract/settings.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { readSettings, SETTING_GROUPS, settingsFormOf } from '#web/features/settings/settings-form.ts'

afterEach(closeAll)

test('every setting of the wire stands on the page, once', () => {
  const shown = SETTING_GROUPS.flatMap((group) => group.names)
  expect([...shown].sort()).toEqual(Object.keys(settings.shape).sort())
})

test('what is shown reads back into the same settings', () => {
  const read = readSettings(settingsFormOf(FIRST_SETTINGS))
  expect(read).toEqual({ ok: true, settings: FIRST_SETTINGS })
  const odd = { ...FIRST_SETTINGS, taxPermille: 77, lookingOverFee: 1234, currency: 'JPY', houseLimitMm: 0.012 }
  expect(readSettings(settingsFormOf(odd))).toEqual({ ok: true, settings: odd })
  const hours = { ...FIRST_SETTINGS, promiseHours: 60.5, promiseMonths: 6, storageDays: 45, benchHoursWeek: 71.5 }
  expect(readSettings(settingsFormOf(hours))).toEqual({ ok: true, settings: hours })
})

test.each([
  [{ zone: 'Berlin' }, 'zone'],
  [{ closingTime: '6 pm' }, 'closingTime'],
  [{ houseLimitMm: 'two' }, 'houseLimitMm'],
  [{ scrapFloorFactor: '0.5' }, 'scrapFloorFactor'],
  [{ lookingOverFee: '30.001' }, 'lookingOverFee'],
  [{ promiseMonths: '1.5' }, 'promiseMonths'],
  [{ promiseHours: '0' }, 'promiseHours'],
  [{ storageRule: 'within {dais} days' }, 'storageRule'],
  [{ tellReady: 'by {date}' }, 'tellReady'],
])('%o is refused at its field', (change, at) => {
  const read = readSettings({ ...settingsFormOf(FIRST_SETTINGS), ...change })
  expect(read.ok ? {} : read.faults).toHaveProperty(at)
})

test('the owner changes them over the version that was seen; a second change is set beside the first', async () => {
  const book = shopBook('owner')
  let stands = { ...FIRST_SETTINGS, version: 3 }
  book.answer('GET /api/settings', () => stands)
  book.answer('PUT /api/settings', ({ headers, body }) => {
    if (headers.get('if-match') !== `"${stands.version}"`) return refusal('stale-version', { version: stands.version })
    stands = { ...(body as typeof FIRST_SETTINGS), version: stands.version + 1 }
    return stands
  })
  openAt('/office/settings')
  const tax = (await screen.findByLabelText(/^Tax contained in a quote/)) as HTMLInputElement
  fireEvent.change(tax, { target: { value: '7,7' } })
  stands = { ...stands, taxPermille: 190, closingTime: '17:30', version: 4 }
  fireEvent.click(screen.getByRole('button', { name: 'Write the settings down' }))
  await screen.findByText('Somebody else changed the settings meanwhile.')
  expect(tax.value).toBe('7,7')
  expect((screen.getByLabelText('Closing time') as HTMLInputElement).value).toBe('17:30')
  fireEvent.click(screen.getByRole('button', { name: 'Write the settings down' }))
  await screen.findByText('The settings are written down.')
  await waitFor(() => expect(stands).toMatchObject({ taxPermille: 77, closingTime: '17:30', version: 5 }))
})

test('a text reads as it will while it is typed; a placeholder that it does not know is refused with those it knows', async () => {
  const book = shopBook('owner')
  openAt('/office/settings')
  const rule = await screen.findByLabelText(/^House rule on cranks not fetched/)
  fireEvent.change(rule, { target: { value: '{shop} keeps it {days} days.' } })
  fireEvent.change(screen.getByLabelText(/^Storage may be charged after/), { target: { value: '45' } })
  await screen.findByText('Kettle Row Crank Works keeps it 45 days.')
  fireEvent.change(screen.getByLabelText(/^or until so many hours/), { target: { value: '60' } })
  await screen.findByText(/12 months or 60 h ridden, whichever comes first/)
  fireEvent.change(rule, { target: { value: 'Within {dais} days.' } })
  fireEvent.click(screen.getByRole('button', { name: 'Write the settings down' }))
  expect((await screen.findAllByText(/\{dais\} is not known here. Known are \{shop\}, \{days\}./)).length).toBeGreaterThan(0)
  expect(book.sent('PUT', '/api/settings')).toEqual([])
})
