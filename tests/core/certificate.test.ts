import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { canonicalJson } from '#core/canonical-json.ts'
import type { CertificateData } from '#core/certificate.ts'
import { certificateTable, DASH, figureText, limitText } from '#core/certificate-figures.ts'
import { certificateNotes } from '#core/certificate-lines.ts'
import { endVerdict, windowVerdict } from '#core/certificate-verdict.ts'
import { plainLine, ruleInWords, statementOfRule, worthInWords } from '#core/certificate-words.ts'
import { sampleCertificate, sampleWithWorth } from '#tests/support/sample-certificate.ts'

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
      ['Left end, full swing', '0.19', '0.012', '0.5', '0.007', '0.020', 'ours', 'within'],
      ['Right end, full swing', '0.21', '0.014', '0.6', '0.005', '0.020', 'ours', 'within'],
      ['Width over webs', '64.02', '64.01', '', '0.01', '63.95 – 64.05', 'maker’s', 'within'],
      // Under the middle of its window: away from the flattering side is down, 14.17 to 14.
      ['Rod side clearance', '0.61', '0.36', '14', '0.02', '0.25 – 0.50', 'maker’s', 'within'],
      ['Big-end play, up and down', '0.06', '0.01', '1', '0.01', '0.05', 'maker’s', 'within'],
    ])
    expect(table[0]?.notes).toEqual([
      'taper 1:5, keyway skipped',
      'the maker allows 0.030 on the bearing seats, another place, not to be compared',
    ])
    expect(table[2]?.notes).toEqual(['at 12, 3, 6, 9: 64.00 · 64.00 · 64.01 · 64.00, spread 0.01'])
  })

  it('says both limits and both places where a limit was carried to another one', () => {
    const row = {
      ...sample.left,
      houseLimitMm: 0.031,
      houseLimitGiven: { limitMm: 0.02, dialMm: 45 },
      makerLimit: { mm: 0.047, place: '70 mm out from its support', samePlace: true, given: { limitMm: 0.03, dialMm: 45 } },
    }
    const [line] = certificateTable(sampleCertificate({ left: row }))
    expect(line?.allowed).toBe('0.031')
    expect(line?.notes.slice(1)).toEqual([
      'we allow 0.020 at 45 mm out, which is 0.031 here',
      'the maker allows 0.030 at 45 mm out, which is 0.047 here',
    ])
    const { houseLimitGiven: _elsewhere, ...here } = row
    expect(certificateTable(sampleCertificate({ left: here }))[0]?.notes.join()).not.toContain('we allow')
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
    expect(table[2]?.notes).toEqual(['not read, because the webs are staked'])
    expect([table[3]?.nowMm, table[3]?.notes]).toEqual([DASH, []])
    expect([table[0]?.asReceived, table[0]?.notes[1]]).toEqual([DASH, 'as received not read, because it came in two halves'])
  })

  it('prints the worst of the four widths, away from the middle of the window', () => {
    const line = certificateTable(
      sampleCertificate({ width: { ...sample.width!, final: { placesMm: [64.01, 63.96, 63.97, 64.0], stepMm: 0.01 } } }),
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

describe('the sealed data', () => {
  it('are JSON that can be sealed, and name no customer', () => {
    const text = canonicalJson(sample)
    expect(canonicalJson(JSON.parse(text))).toBe(text)
    expect(Object.keys(sample).join(' ')).not.toMatch(/customer|owner/i)
  })
})

describe('what the give-or-take is made of', () => {
  it('is said with its coverage, its factor and its parts, small ones together; the same at both ends once', () => {
    expect(worthInWords(sampleWithWorth())).toEqual([
      'The give-or-take of a full swing holds the true one 95 times in 100, left k = 2: dial 48\u00a0%, seats 33\u00a0%, surface 19\u00a0%; right k = 2.26: dial 48\u00a0%, repeat 40\u00a0%, seats 8\u00a0%, others 4\u00a0%.',
    ])
    const { left, ...worth } = sampleWithWorth().worth!
    const both = sampleWithWorth({ worth: { ...worth, left: left!, right: left!, warm: true } })
    expect(worthInWords(both)).toEqual([
      'The give-or-take of a full swing holds the true one 95 times in 100, k = 2: dial 48\u00a0%, seats 33\u00a0%, surface 19\u00a0%. The crank was still warm, and no give-or-take covers that.',
    ])
    expect(certificateNotes(both)[0]).toBe(worthInWords(both)[0])
  })

  it('is not said on a sheet of form 1, nor where no end was read', () => {
    expect(worthInWords(sample)).toEqual([])
    const { left: _left, right: _right, ...worth } = sampleWithWorth().worth!
    expect(worthInWords(sampleWithWorth({ worth }))).toEqual([])
  })
})

describe('the rule of a sheet', () => {
  it('stands as it was sealed, whatever the words have become', () => {
    const worth = { ...sampleWithWorth().worth!, statement: 'As it was put then.' }
    expect(statementOfRule(sampleWithWorth({ worth }))).toBe('As it was put then.')
  })

  it('says what within means by either rule, of the words that the sheet uses only', () => {
    expect(ruleInWords('full-guard', ['within'])).toContain('the figure and its give-or-take together do not pass the limit')
    const simple = ruleInWords('simple', ['within', 'over', 'over-ours-inside-makers'])
    expect(simple).toContain('its give-or-take is left out')
    expect(simple).toContain('“Over” and “under” mean')
    expect(simple).toContain('but not the maker’s for the same place')
    expect(ruleInWords('full-guard', ['no-limit'])).not.toContain('Within')
  })

  it('simple leaves nothing in the doubt band: at the maker’s limit, at ours, and in a window', () => {
    const end = { tirMm: 0.019, giveOrTakeMm: 0.005, houseLimitMm: 0.02 }
    expect([endVerdict(end), endVerdict({ ...end, rule: 'simple' })]).toEqual(['in-the-doubt-band', 'within'])
    const over = { ...end, tirMm: 0.028, makerLimitMm: 0.03 }
    expect([endVerdict(over), endVerdict({ ...over, rule: 'simple' })]).toEqual(['over-ours-doubtful-by-makers', 'over-ours-inside-makers'])
    const row = { mm: [0.045], giveOrTakeMm: 0.01, maxMm: 0.05 }
    expect([windowVerdict(row), windowVerdict({ ...row, rule: 'simple' })]).toEqual(['in-the-doubt-band', 'within'])
  })
})
