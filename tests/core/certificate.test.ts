import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { canonicalJson } from '#core/canonical-json.ts'
import { type CertificateData, endVerdict, windowVerdict } from '#core/certificate.ts'
import { certificateTable, DASH, figureText, limitText } from '#core/certificate-figures.ts'
import { certificateFacts, certificateNotes, certificatePeople, standingLines } from '#core/certificate-lines.ts'
import { CYCLES, FITTING_TEXT, PROMISE_TEXT, RUNNING_IN_TEXT } from '#core/certificate-texts.ts'
import { passLine, plainLine, statementOfRule } from '#core/certificate-words.ts'
import { dayBeside, dayInWords, twoDaysInWords } from '#core/days-in-words.ts'
import { sampleCertificate } from '#tests/support/sample-certificate.ts'

const sample = sampleCertificate()

function withLeft(change: Partial<CertificateData['left']>): CertificateData {
  return sampleCertificate({ left: { ...sample.left, ...change } })
}

describe('plainLine', () => {
  it('says day, both ends, thou, doubt, dial, place, support and limit in the past tense', () => {
    expect(plainLine(sample)).toBe(
      'On our bench on 2 December 2026 the left end swung 0.012 mm and the right 0.014 mm in one turn (0.5 and 0.6 thou), give or take 0.007 and 0.005, by a 0.001 mm dial, 45 and 50 mm out from the middle of the main seats, on bare seats in V-blocks. We allow 0.020.',
    )
  })

  it('says the doubt band, over, and over ours inside the maker’s, each in its own words', () => {
    expect(plainLine(withLeft({ verdict: 'in-the-doubt-band' }))).toContain('The left end was inside our limit, but in the doubt band.')
    expect(plainLine(withLeft({ verdict: 'over' }))).toContain('The left end was over our limit.')
    const inside = plainLine(withLeft({ verdict: 'over-ours-inside-makers', makerLimit: { mm: 0.03, place: 'there', samePlace: true } }))
    expect(inside).toContain('The left end was over our limit and inside the maker’s.')
    expect(inside).toContain('At the same place the maker allows 0.030 left.')
  })

  it('says an end that was not read, with the reason, and no figure for it', () => {
    const line = plainLine(withLeft({ final: { notRead: 'the thread is crushed' }, verdict: 'not-read' }))
    expect(line).toContain(
      'the right end swung 0.014 mm in one turn (0.6 thou), give or take 0.005, by a 0.001 mm dial, 50 mm out from the middle of its main seat',
    )
    expect(line).toContain('The left end was not read on 2 December 2026, because the thread is crushed.')
    expect(line).not.toContain('0.012')
  })

  it('names two dials, one place and different limits', () => {
    const data = sampleCertificate({
      left: { ...sample.left, final: { mm: 0.011, stepMm: 0.01 }, giveOrTakeMm: 0.008, houseLimitMm: 0.025 },
      right: { ...sample.right, giveOrTakeMm: 0.01 },
      setup: { ...sample.setup, left: { ...sample.setup.left, dialMm: 50 } },
    })
    expect(plainLine(data)).toContain(
      'swung 0.02 mm and the right 0.014 mm in one turn (1 and 0.6 thou), give or take 0.01 and 0.010, by dials of 0.01 mm and 0.001 mm, 50 mm out from the middle of each main seat',
    )
    expect(plainLine(data)).toContain('We allow 0.025 left and 0.020 right.')
  })

  it('counts from the centres between centres, and says in where a dial stood inboard', () => {
    const data = sampleCertificate({
      setup: { held: 'centres', left: { ...sample.setup.left, dialMm: -51 }, right: { ...sample.setup.right, dialMm: -61 } },
    })
    expect(plainLine(data)).toContain('51 and 61 mm in from the centres, between centres.')
  })

  it('names an inch dial in thou', () => {
    expect(plainLine(withLeft({ final: { mm: 0.0117, stepMm: 0.00254 } }))).toContain('by dials of 0.1 thou and 0.001 mm')
  })

  it('never praises: no such word on any sheet, whatever the figures', () => {
    const step = fc.constantFrom(0.001, 0.002, 0.01, 0.0127, 0.00254)
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), step, (mm, stepMm) => {
        const data = withLeft({ final: { mm, stepMm } })
        const all = [
          plainLine(data),
          statementOfRule(data),
          ...certificateTable(data).map((line) => Object.values(line).flat().join(' ')),
          ...certificateNotes(data),
        ].join(' ')
        expect(all).not.toMatch(/perfect|\bzero\b|\bbalanced\b|NaN|undefined/i)
      }),
    )
  })
})

describe('figures as printed', () => {
  it('rounds runout up and interference down, no digit finer than the dial', () => {
    expect(figureText({ mm: 0.0117, stepMm: 0.001 }, 'mm', 'low')).toBe('0.012')
    expect(figureText({ mm: 0.0111, stepMm: 0.01 }, 'mm', 'low')).toBe('0.02')
    expect(figureText({ mm: 0.0949, stepMm: 0.001 }, 'mm', 'high')).toBe('0.094')
    expect(figureText({ mm: 0.014, stepMm: 0.001 }, 'thou', 'low')).toBe('0.6')
    expect(figureText({ mm: 0.19, stepMm: 0.01 }, 'thou', 'low')).toBe('8')
  })

  it('never flatters: what prints is never less than what was read, nor a whole digit more', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 2, noNaN: true }), fc.constantFrom(0.001, 0.01), (mm, stepMm) => {
        const printed = Number(figureText({ mm, stepMm }, 'mm', 'low'))
        expect(printed).toBeGreaterThanOrEqual(mm - 1e-9)
        expect(printed - mm).toBeLessThan(stepMm + 1e-9)
      }),
    )
  })

  it('prints a swing of nothing as under one digit, and limits with all their digits', () => {
    expect(figureText({ mm: 0, stepMm: 0.001 }, 'mm', 'low')).toBe('under 0.001')
    expect(figureText({ mm: 0, stepMm: 0.01 }, 'thou', 'low')).toBe('under 1')
    expect(limitText(0.02, 0.001)).toBe('0.020')
    expect(limitText(0.012, 0.01)).toBe('0.012')
  })
})

describe('certificateTable', () => {
  it('lays out the ordinary sheet', () => {
    const table = certificateTable(sample)
    expect(
      table.map((line) => [line.what, line.asReceived, line.nowMm, line.thou, line.giveOrTake, line.allowed, line.whose, line.verdict]),
    ).toEqual([
      ['Left, taper 1:5, keyway skipped', '0.19', '0.012', '0.5', '0.007', '0.020', 'ours', 'within'],
      ['Right, plain ground', '0.21', '0.014', '0.6', '0.005', '0.020', 'ours', 'within'],
      ['Width over webs', '64.02', '64.01', '', '0.01', '63.95 – 64.05', 'maker’s', 'within'],
      // Under the middle of its window: away from the flattering side is down, 14.17 to 14.
      ['Rod side clearance', '0.61', '0.36', '14', '0.02', '0.25 – 0.50', 'maker’s', 'within'],
      ['Big-end play, up and down', '0.06', '0.01', '1', '0.01', '0.05', 'maker’s', 'within'],
    ])
    expect(table[0]?.notes).toEqual(['The maker allows 0.030, on the bearing seats: another place, not to be compared'])
    expect(table[2]?.notes).toEqual(['at 12, 3, 6, 9: 64.00 · 64.00 · 64.01 · 64.00, spread 0.01'])
  })

  it('prints a dash and the reason for a figure that was not read, and a bare dash for one that was not asked for', () => {
    const table = certificateTable(
      sampleCertificate({
        width: { final: { notRead: 'the webs are staked' }, verdict: 'not-read' },
        sideClearance: { verdict: 'not-read' },
        left: { ...sample.left, asReceived: { notRead: 'it came in two halves' } },
      }),
    )
    expect([table[2]?.nowMm, table[2]?.thou, table[2]?.allowed, table[2]?.verdict]).toEqual([DASH, DASH, DASH, DASH])
    expect(table[2]?.notes).toEqual(['Not read, because the webs are staked'])
    expect([table[3]?.nowMm, table[3]?.notes]).toEqual([DASH, []])
    expect([table[0]?.asReceived, table[0]?.notes[0]]).toEqual([DASH, 'As received not read, because it came in two halves'])
  })

  it('prints the worst of the four widths, away from the middle of the window', () => {
    const line = certificateTable(
      sampleCertificate({ width: { ...sample.width, final: { placesMm: [64.01, 63.96, 63.97, 64.0], stepMm: 0.01 } } }),
    )[2]
    expect(line?.nowMm).toBe('63.96')
    expect(line?.notes[0]).toContain('spread 0.05')
  })

  it('marks what is past a limit, and adds the places of a crank with several throws', () => {
    const table = certificateTable(
      sampleCertificate({
        left: { ...sample.left, verdict: 'over-ours-inside-makers' },
        further: [
          {
            what: 'Centre, at the inner mains',
            final: { mm: 0.03, stepMm: 0.01 },
            allowed: { maxMm: 0.04, whose: 'makers' },
            verdict: 'in-the-doubt-band',
          },
        ],
      }),
    )
    expect([table[0]?.verdict, table[0]?.past]).toEqual(['over ours, inside the maker’s', true])
    expect([table[5]?.what, table[5]?.verdict, table[5]?.past]).toEqual(['Centre, at the inner mains', 'in the doubt band', false])
  })
})

describe('verdicts', () => {
  it('run the examples of their docstrings', () => {
    expect(endVerdict({ tirMm: 0.014, giveOrTakeMm: 0.005, houseLimitMm: 0.02 })).toBe('within')
    expect(endVerdict({ tirMm: 0.024, giveOrTakeMm: 0.005, houseLimitMm: 0.02, makerLimitMm: 0.03 })).toBe('over-ours-inside-makers')
    expect(windowVerdict({ mm: [64.0, 64.01], giveOrTakeMm: 0.01, minMm: 63.95, maxMm: 64.05 })).toBe('within')
    expect(windowVerdict({ mm: [0.045], giveOrTakeMm: 0.01, maxMm: 0.05 })).toBe('in-the-doubt-band')
  })

  it.each([
    [{ tirMm: 0.014, giveOrTakeMm: 0.008, houseLimitMm: 0.02 }, 'in-the-doubt-band'],
    // At the limit to the last binary digit: 0.013 + 0.007 is a hair off 0.020 in binary.
    [{ tirMm: 0.013, giveOrTakeMm: 0.007, houseLimitMm: 0.02 }, 'within'],
    [{ tirMm: 0.0201, giveOrTakeMm: 0.005, houseLimitMm: 0.02 }, 'over'],
    [{ tirMm: 0.027, giveOrTakeMm: 0.005, houseLimitMm: 0.02, makerLimitMm: 0.03 }, 'over-ours-doubtful-by-makers'],
    [{ tirMm: 0.031, giveOrTakeMm: 0.005, houseLimitMm: 0.02, makerLimitMm: 0.03 }, 'over'],
    [{ tirMm: 0.5, giveOrTakeMm: 0.005 }, 'no-limit'],
  ])('an end at %o is %s', (end, wanted) => {
    expect(endVerdict(end)).toBe(wanted)
  })

  it.each([
    [{ mm: [63.94], giveOrTakeMm: 0.01, minMm: 63.95, maxMm: 64.05 }, 'under'],
    [{ mm: [64.0, 64.06], giveOrTakeMm: 0.01, minMm: 63.95, maxMm: 64.05 }, 'over'],
    [{ mm: [63.95], giveOrTakeMm: 0.01, minMm: 63.95, maxMm: 64.05 }, 'in-the-doubt-band'],
  ])('a window with %o is %s', (row, wanted) => {
    expect(windowVerdict(row)).toBe(wanted)
  })

  it('refuse figures that are none', () => {
    expect(() => windowVerdict({ mm: [], giveOrTakeMm: 0.01, maxMm: 1 })).toThrow(/^windowVerdict needs /)
    expect(() => windowVerdict({ mm: [Number.NaN], giveOrTakeMm: 0.01, maxMm: 1 })).toThrow(RangeError)
    expect(() => endVerdict({ tirMm: -1, giveOrTakeMm: 0, houseLimitMm: 1 })).toThrow(RangeError)
  })
})

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
      { name: 'Crank', says: 'Ruskhammar R449-4X, number R4-20718, tag 318-V, webs marked 318-V L and 318-V R, not welded' },
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

describe('days in words', () => {
  it('run the examples of their docstrings', () => {
    expect(dayInWords('2026-12-02')).toBe('2 December 2026')
    expect(twoDaysInWords('measured', '2026-12-02', 'issued', '2026-12-03')).toBe('measured 2, issued 3 December 2026')
    expect(twoDaysInWords('measured', '2026-11-28', 'issued', '2026-12-03')).toBe('measured 28 November, issued 3 December 2026')
    expect(twoDaysInWords('measured', '2025-12-31', 'issued', '2026-01-02')).toBe('measured 31 December 2025, issued 2 January 2026')
    expect(twoDaysInWords('measured', '2026-12-03', 'issued', '2026-12-03')).toBe('measured and issued 3 December 2026')
    expect(dayBeside('2026-10-14', '2026-12-03')).toBe('14 October')
    expect(dayBeside('2025-10-14', '2026-12-03')).toBe('14 October 2025')
  })

  it.each(['2026-02-29', '2026-13-01', '2026-1-1', '', '2026-04-31'])('refuse %s', (date) => {
    expect(() => dayInWords(date)).toThrow(/^dayInWords needs /)
  })

  it('know leap years', () => {
    expect(dayInWords('2028-02-29')).toBe('29 February 2028')
    expect(() => dayInWords('2100-02-29')).toThrow(RangeError)
  })
})

describe('the sealed data', () => {
  it('are JSON that can be sealed, and name no customer', () => {
    const text = canonicalJson(sample)
    expect(canonicalJson(JSON.parse(text))).toBe(text)
    expect(Object.keys(sample).join(' ')).not.toMatch(/customer|owner/i)
  })
})
