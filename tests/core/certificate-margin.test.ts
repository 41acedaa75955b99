import { expect, test } from 'vitest'
import type { CertificateVerdict, RunoutRow } from '#core/certificate.ts'
import { certificateMargin } from '#core/certificate-margin.ts'

const end = (mm: number, verdict: CertificateVerdict, more: Partial<RunoutRow> = {}): RunoutRow => ({
  final: { mm, stepMm: 0.001 },
  giveOrTakeMm: 0.005,
  houseLimitMm: 0.02,
  verdict,
  ...more,
})

test('the margin is that of the end with less room, the verdict the worse of the two', () => {
  expect(certificateMargin({ left: end(0.011, 'within'), right: end(0.013, 'within') })).toEqual({ verdict: 'within', marginMm: 0.002 })
  expect(certificateMargin({ left: end(0.017, 'in-the-doubt-band'), right: end(0.008, 'within') })).toEqual({
    verdict: 'in-the-doubt-band',
    marginMm: -0.002,
  })
  expect(certificateMargin({ left: end(0.01, 'within'), right: end(0.03, 'over') }).verdict).toBe('over')
})

test('an end without a limit or a reading has no room to speak of', () => {
  const { houseLimitMm: _, ...limitless } = end(0.01, 'no-limit')
  expect(certificateMargin({ left: limitless, right: limitless })).toEqual({ verdict: 'no-limit' })
  const unread: RunoutRow = { final: { notRead: 'the taper is galled' }, verdict: 'not-read' }
  expect(certificateMargin({ left: unread, right: end(0.01, 'within') })).toEqual({ verdict: 'not-read', marginMm: 0.005 })
})
