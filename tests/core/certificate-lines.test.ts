import { describe, expect, it } from 'vitest'
import type { CertificateData } from '#core/certificate.ts'
import { certificateFacts, certificateNotes, certificatePeople, standingLines } from '#core/certificate-lines.ts'
import { CYCLES, FITTING_TEXT, PROMISE_TEXT, RUNNING_IN_TEXT } from '#core/certificate-texts.ts'
import { passLine, statementOfRule } from '#core/certificate-words.ts'
import { sampleCertificate } from '#tests/support/sample-certificate.ts'

const sample = sampleCertificate()

function withLeft(change: Partial<CertificateData['left']>): CertificateData {
  return sampleCertificate({ left: { ...sample.left, ...change } })
}

describe('words beside the figures', () => {
  it('explain only the verdicts that the sheet uses', () => {
    expect(statementOfRule(sample)).toBe(
      '“Within” means that the figure with its give-or-take added does not pass the limit named here, 19 times in 20. Decided before rounding; printed rounded to the side that flatters us least.',
    )
    const doubtful = statementOfRule(withLeft({ verdict: 'in-the-doubt-band' }))
    expect(doubtful).toContain(
      '“In the doubt band” means that the figure itself does not pass the limit, but with its give-or-take added it would.',
    )
    expect(statementOfRule(withLeft({ verdict: 'over-ours-inside-makers' }))).toContain('“Inside the maker’s” means')
  })

  it('say every pass with day, what, why and whether the customer knew', () => {
    const pass = sample.passes[0]!
    expect(passLine(pass)).toBe(
      'Let pass by the owner of the shop on 24 November 2026: right web at 0.094, below our floor of 0.100, above the scrap floor of 0.077. Why: no other web to be had. The customer was told that day.',
    )
    expect(passLine({ ...pass, customerToldOn: '2026-11-26', measuredBy: 'M. Kovac' })).toContain(
      'Measured by M. Kovac. The customer was told on 26 November 2026.',
    )
    expect(passLine({ ...pass, customerToldOn: null })).toContain('The customer has not been told.')
  })

  it('say which crank, hours, pressings, kit, fit, press and what else', () => {
    expect(certificateFacts(sample)).toEqual([
      { name: 'Crank', says: 'Ruskhammar R449-4X, number R4-20718, tag 318-V, webs marked 318-V\u00a0L and 318-V\u00a0R, not welded' },
      { name: 'Hours', says: '61 h, read off the meter' },
      { name: 'Pressings', says: 'this was the third of both webs' },
      { name: 'Rod kit', says: 'Ardenlow R449-4X-K1, lot A-2417, ours' },
      { name: 'Fit of the pin', says: '0.109 left, 0.094 right' },
      { name: 'Pressed on', says: 'about 9 t left and 8 t right, oil on the pin' },
      { name: 'Also', says: 'both mains new; oil hole blown through; rod straight' },
    ])
  })

  it('leave out what does not belong to a true-only job, and say what is not known', () => {
    const { pressings: _pressings, fit: _fit, pressing: _pressing, ...rest } = sample
    const facts = certificateFacts({ ...rest, kit: null, also: [], hours: { how: 'unknown' }, crank: { ...sample.crank, welded: true } })
    expect(facts.map((fact) => fact.name)).toEqual(['Crank', 'Hours', 'Rod kit'])
    expect(facts[0]?.says).toContain('pin welded')
    expect(facts[1]?.says).toBe('not known')
    expect(facts[2]?.says).toBe('none fitted on this job')
    expect(certificateFacts(sampleCertificate({ pressings: { left: 12, right: 2 } }))[2]?.says).toBe(
      'this was the 12th of the left web, the second of the right',
    )
  })

  it('say who read again, instruments with their checks, and what was not read or done', () => {
    expect(certificateNotes(sample)).toEqual([
      'Read again cold at 20.5 °C by a second person: left 0.011, right 0.015.',
      'Dial 4 checked 14 October, micrometer 2 checked 1 October.',
      'Not done: balancing, small end, stuffers not opened.',
      'Figures can change in the post and in fitting.',
    ])
    const alone = certificateNotes(
      sampleCertificate({
        again: { ...sample.again!, samePerson: true },
        third: { ...sample.again!, left: { notRead: 'dial lent out' } },
        instruments: [{ name: 'Dial 1', checkedOn: null, overdue: true }],
        notRead: [{ what: 'small-end bore', why: 'gauge away' }],
      }),
    )
    expect(alone[0]).toContain('by the same person from a fresh set-up')
    expect(alone[1]).toContain('A third set was read cold at 20.5 °C by a second person: left – (not read, because dial lent out)')
    expect(alone[2]).toBe('Dial 1 never checked, overdue that day.')
    expect(alone[3]).toBe('Not read: small-end bore, because gauge away.')
    expect(certificatePeople(sample)).toEqual([
      'Built by M. Kovac, 2 December 14:10, own sign-in',
      'Read again by E. Lind, 3 December 08:05, own sign-in',
      'Signed by E. Lind, 3 December 08:20, own sign-in',
    ])
  })

  it('say at the head what the sheet replaces, what replaced it, and that it is void', () => {
    const data = sampleCertificate({ replaces: { number: '0409', reason: 'engine number misread' } })
    expect(standingLines(sample, {})).toEqual([])
    expect(
      standingLines(data, { replacedBy: { number: '0415', onDay: '2026-12-05' }, void: { onDay: '2026-12-06', reason: 'wrong crank' } }),
    ).toEqual([
      'Void since 6 December 2026: wrong crank',
      'Replaced by No. 0415 on 5 December 2026. Do not go by this sheet.',
      'Replaces No. 0409: engine number misread',
    ])
  })

  it('have texts for both cycles that put the maker’s book first and never drive on the end', () => {
    for (const cycle of CYCLES) {
      expect(FITTING_TEXT[cycle]).toContain('maker’s book comes first')
      expect(FITTING_TEXT[cycle]).toContain('Never drive on the end of a shaft')
      expect(RUNNING_IN_TEXT[cycle].length).toBeGreaterThan(80)
    }
    expect(RUNNING_IN_TEXT['2T']).not.toBe(RUNNING_IN_TEXT['4T'])
    expect(PROMISE_TEXT).toContain('Ring first')
  })
})
