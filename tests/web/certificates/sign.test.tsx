import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import type { CertificateOfJob } from '#contract/certificates.ts'
import type { Me } from '#contract/sessions.ts'
import { preview, sheet0412, sheet0413 } from '#tests/web/certificates/sample-sheets.ts'
import { type FakeBook, fakeBook, NoAnswer, openAt, posts, Refusal } from '#tests/web/truing/fake-book.tsx'
import { dial7, ewa, JOB_ID, jobAt, jonas, marek, setOf, trueSet } from '#tests/web/truing/sample-bench.ts'
import { BenchSignPage } from '#web/pages/bench-sign.tsx'

const JOB = `/api/jobs/${JOB_ID}`
const CERTIFICATES = `${JOB}/certificates`

const second = {
  ...setOf('0198f3a0-0000-7000-8000-000000000108', [0, 0.012, 0, -0.012, 0], [0, -0.002, 0, 0.002, 0], { phase: 'second', dial: dial7 }),
  by: 'Marek',
  byId: marek.id,
}

afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

function bench(certificate: CertificateOfJob, me: Me = marek, over: Record<string, unknown> = {}): FakeBook {
  return fakeBook(me, {
    [`GET ${JOB}`]: jobAt('trued', {
      passes: [
        {
          step: 'together',
          what: 'The fit of the right web is below our floor.',
          code: 'fit-right-below-shop-floor',
          reason: 'no other web to be had',
          by: 'Ewa',
          at: '2026-11-24T10:00:00Z',
          customerToldAt: '2026-11-24T11:00:00Z',
        },
      ],
    }),
    [`GET ${JOB}/check`]: { mayRead: false, next: null, first: trueSet, second, agree: true, says: [] },
    [`GET ${JOB}/certificate`]: certificate,
    ...over,
  })
}

function open() {
  openAt(`/bench/${JOB_ID}/sign`, { '/bench/:jobId/sign': BenchSignPage })
}

test('before signing: the plain line, every row as it prints, the gate’s reading beside, and what was let pass', async () => {
  bench(preview)
  open()
  expect(await screen.findByText(preview.plain ?? '')).toBeTruthy()
  const rows = within(screen.getByRole('table', { name: 'Rows of the certificate as they print' })).getAllByRole('row')
  expect(rows[1]?.textContent).toBe(
    'Left end, full swingtaper 1:5, keyway skipped · the maker allows 0.030 on the bearing seats, another place, not to be compared0.190.0120.0070.020within',
  )
  expect(rows).toHaveLength((preview.lines?.length ?? 0) + 1)
  const gate = screen.getByRole('table', { name: 'Each reading against our limit, nothing added, mm' })
  // The second reading passes the limit by itself and is marked; a digit more than its dial shows what is decided here.
  expect(
    within(gate)
      .getAllByRole('row')
      .map((row) => row.textContent),
  ).toEqual(['endfirstsecondallowed', 'L left0.0070.0240 over0.02', 'R right0.0070.00400.02'])
  expect(
    screen.getByText(
      /^Let pass by the owner of the shop on 24 November 2026: The fit of the right web is below our floor\. Why: no other web to be had\. The customer was told that day\.$/,
    ),
  ).toBeTruthy()
  expect(screen.queryByRole('heading', { name: 'Still missing' })).toBeNull()
})

test('sign it: one sheet, also when the first press got no answer', async () => {
  const book = bench(preview, marek, { [`POST ${CERTIFICATES}`]: new NoAnswer() })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Sign it' }))
  expect((await screen.findByRole('alert')).textContent).toMatch(/It is not signed/)
  book.answers.set(`POST ${CERTIFICATES}`, () => {
    book.answers.set(`GET ${JOB}/certificate`, { mayIssue: false, missing: [], issued: [sheet0412] })
    return sheet0412
  })
  fireEvent.click(screen.getByRole('button', { name: 'Sign it' }))
  expect(await screen.findByText('7K4M-9QTX')).toBeTruthy()
  const [first, again] = posts(book, CERTIFICATES)
  expect(again?.key).toBe(first?.key)
  expect(again?.body).toEqual(first?.body)
  expect(screen.getByRole('link', { name: 'Open No. 0412, A4' }).getAttribute('href')).toBe(
    `/api/certificates/${sheet0412.id}/paper.pdf?paper=A4`,
  )
  expect(screen.getByRole('link', { name: 'Open No. 0412, Letter' }).getAttribute('href')).toBe(
    `/api/certificates/${sheet0412.id}/paper.pdf?paper=Letter`,
  )
  expect(screen.queryByRole('button', { name: 'Sign it' })).toBeNull()
  // Correcting and making void are the owner's.
  expect(screen.queryByRole('button', { name: /Correct No/ })).toBeNull()
})

const LACKING: CertificateOfJob = {
  ...preview,
  mayIssue: false,
  missing: [{ code: 'instrument-overdue', detail: 'Overdue for its check: dial 4.', pass: 'owner' }, ...preview.missing],
}

test('what stands against it is said, and it cannot be signed before', async () => {
  bench(LACKING)
  open()
  expect(await screen.findByText('Overdue for its check: dial 4.')).toBeTruthy()
  expect(screen.queryByText('The certificate is not made yet.')).toBeNull()
  expect(screen.getByRole('button', { name: 'Sign it' }).hasAttribute('disabled')).toBe(true)
  expect(screen.queryByRole('button', { name: 'Let it pass, with a reason' })).toBeNull()
})

test('the owner may let it pass, with a reason, before signing', async () => {
  const book = bench(LACKING, ewa, { [`POST ${JOB}/steps`]: jobAt('trued') })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Let it pass, with a reason' }))
  fireEvent.change(screen.getByLabelText('Overdue for its check: dial 4.'), { target: { value: 'checked against slips this morning' } })
  fireEvent.click(screen.getByRole('button', { name: /^Let it pass: / }))
  await waitFor(() =>
    expect(posts(book, `${JOB}/steps`)[0]?.body).toMatchObject({
      to: 'signed',
      passes: [{ code: 'instrument-overdue', reason: 'checked against slips this morning' }],
    }),
  )
})

test('who may not sign sees no button and is told so', async () => {
  const { plain: _plain, lines: _lines, ...rest } = preview
  bench({ ...rest, mayIssue: false }, jonas)
  open()
  expect(await screen.findByText(/Signing is not open to you/)).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'Sign it' })).toBeNull()
})

test('the owner corrects a sheet with a reason; the chain says what replaced what', async () => {
  const book = bench({ mayIssue: false, missing: [], issued: [sheet0412] }, ewa)
  book.answers.set(`POST /api/certificates/${sheet0412.id}/corrections`, () => {
    book.answers.set(`GET ${JOB}/certificate`, { mayIssue: false, missing: [], issued: [sheet0413, { ...sheet0412, replacedBy: '0413' }] })
    return sheet0413
  })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Correct No. 0412' }))
  fireEvent.change(screen.getByLabelText('Why is it replaced?'), { target: { value: 'The engine number was mistyped.' } })
  fireEvent.click(screen.getByRole('button', { name: 'Make the corrected sheet' }))
  expect(await screen.findByText(/Replaces No\. 0412: The engine number was mistyped\. It stands\./)).toBeTruthy()
  expect(screen.getByText(/Replaced by No\. 0413\./)).toBeTruthy()
  expect(posts(book, `/api/certificates/${sheet0412.id}/corrections`)[0]?.body).toEqual({ reason: 'The engine number was mistyped.' })
  expect(screen.queryByRole('button', { name: 'Correct No. 0412' })).toBeNull()
})

test('the owner makes a sheet void; a refusal stands beside the reason', async () => {
  const book = bench({ mayIssue: false, missing: [], issued: [sheet0412] }, ewa, {
    [`POST /api/certificates/${sheet0412.id}/void`]: new Refusal('conflict-state', { detail: 'Sheet 0412 is void.' }),
  })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Make No. 0412 void' }))
  fireEvent.change(screen.getByLabelText('Why is it void?'), { target: { value: 'it fell off the bench' } })
  fireEvent.click(screen.getByRole('button', { name: 'Make it void' }))
  expect(await screen.findByText('Sheet 0412 is void.')).toBeTruthy()
  expect(screen.getByLabelText<HTMLTextAreaElement>('Why is it void?').value).toBe('it fell off the bench')
  expect(posts(book, `/api/certificates/${sheet0412.id}/void`)).toHaveLength(1)
})

test('a report has no limit to meet, and says so', async () => {
  bench(preview, marek, { [`GET ${JOB}`]: jobAt('measured', { kind: 'check-and-report' }) })
  open()
  expect(await screen.findByText('A report says how the crank came in; no limit need be met.')).toBeTruthy()
  const gate = screen.getByRole('table', { name: 'Each reading against our limit, nothing added, mm' })
  expect(within(gate).queryByText(/over/)).toBeNull()
})
