import type { CertificateOfJob, LookedUp, YourCrank } from '#contract/certificates.ts'
import { certificateTable } from '#core/certificate-figures.ts'
import { plainLine } from '#core/certificate-words.ts'
import { sampleCertificate } from '#tests/support/sample-certificate.ts'

/** A sheet of the demo shop as the book answers it, in the very words of the core. */
const data = sampleCertificate()
const table = certificateTable(data)

export const preview: CertificateOfJob = {
  mayIssue: true,
  missing: [{ code: 'certificate', detail: 'The certificate is not made yet.', pass: 'owner' }],
  plain: plainLine(data),
  lines: table.map((line) => ({
    what: line.what,
    notes: line.notes,
    asReceived: line.asReceived,
    now: line.nowMm,
    giveOrTake: line.giveOrTake,
    allowed: line.allowed,
    verdict: line.verdict,
  })),
  issued: [],
}

const SHA = 'a3f1'.repeat(16)

export const sheet0412: CertificateOfJob['issued'][number] = {
  id: '0198f3a0-0000-7000-8000-0000000000f1',
  number: '0412',
  issuedAt: '2026-12-03T08:20:00Z',
  issuedBy: 'Ewa',
  checkCode: '7K4M-9QTX',
  seal: { alg: 'sha-256', keyId: null, value: '7b1e90c422af5d06'.repeat(4) },
}
export const sheet0413: CertificateOfJob['issued'][number] = {
  ...sheet0412,
  id: '0198f3a0-0000-7000-8000-0000000000f2',
  number: '0413',
  checkCode: '2M7P-QX44',
  issuedAt: '2026-12-04T09:00:00Z',
  replaces: '0412',
  reason: 'The engine number was mistyped.',
}

export const looked: LookedUp = {
  number: '0412',
  heading: 'Certificate of runout',
  standing: 'stands',
  standingSays: 'This sheet stands as it was issued on 3 December 2026.',
  shop: 'Kettle Row Crank Works',
  issuedOn: '2026-12-03',
  crank: 'Ruskhammar R449-4X, tag 318-V',
  plain: plainLine(data),
  lines: table.map((line) => ({ what: line.what, now: line.nowMm, allowed: line.allowed, verdict: line.verdict })),
  seal: sheet0412.seal.value,
  files: [SHA],
}

export const TOKEN = 'a-secret-of-more-than-twenty-signs'

export const crank: YourCrank = {
  shop: 'Kettle Row Crank Works',
  tag: '318-V',
  engine: 'Ruskhammar R449-4X',
  kind: 'rebuild',
  state: 'apart',
  path: ['booked', 'measured', 'agreed', 'apart', 'together', 'trued', 'signed', 'gone'],
  headline: 'Your crank is apart.',
  waiting: ['We wait for its rod kit, due 26 November 2026.'],
  promisedOn: '2026-12-03',
  found: ['The big end has 0.06 mm of play where 0.05 is allowed.', 'The shafts swung 0.19 and 0.21 mm; we send it home at 0.02 or less.'],
  money: ['You said yes to 412.00 EUR with tax on 23 November 2026.'],
  photos: [
    { id: '0198f3a0-0000-7000-8000-000000000b01', caption: 'the rod as it came', at: '2026-11-23T09:00:00Z' },
    { id: '0198f3a0-0000-7000-8000-000000000b02', at: '2026-11-23T09:01:00Z' },
  ],
}
