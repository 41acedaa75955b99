import { describe, expect, test } from 'vitest'
import type { CertificateData, PhaseRow, SealedThrow } from '#core/certificate.ts'
import { certificateTable, DASH } from '#core/certificate-figures.ts'
import { certificateFacts, certificateNotes } from '#core/certificate-lines.ts'
import { aloneWords, throwFacts } from '#core/certificate-throws.ts'
import { statementOfRule } from '#core/certificate-words.ts'
import { sampleCertificate } from '#tests/support/sample-certificate.ts'

// What such a sheet says is common practice of the trade, no source; the crank is invented.

const single = sampleCertificate()

function aThrow(name: string, change: Partial<SealedThrow> = {}): SealedThrow {
  return { name, width: single.width!, sideClearance: single.sideClearance!, bigEndPlay: single.bigEndPlay!, ...change }
}

function angle(change: Partial<PhaseRow> = {}): PhaseRow {
  return { name: 'Throw 2', final: { deg: 180.22 }, nominalDeg: 180, limitDeg: 0.5, giveOrTakeDeg: 0.1, verdict: 'within', ...change }
}

function twin(change: Partial<CertificateData> = {}): CertificateData {
  const { width: _width, sideClearance: _clearance, bigEndPlay: _play, shape: _shape, ...rest } = single
  return {
    ...rest,
    form: 'throwbook-certificate-3',
    build: { phaseDeg: [0, 180], centre: 'pressed', trapped: ['centre bearing', 'labyrinth'] },
    throws: [
      aThrow('Throw 1', {
        webMarks: { left: '318-V 1L', right: '318-V 1R' },
        fit: { left: { mm: 0.0718, stepMm: 0.001 }, right: { mm: 0.07, stepMm: 0.001 } },
        alone: { left: { mm: 0.0112, stepMm: 0.001 }, right: { notRead: 'too short' } },
      }),
      aThrow('Throw 2', { kit: { maker: 'Ardenlow', model: 'Z347-2W K1', lot: 'A-2500', from: 'ours' } }),
    ],
    centres: [{ name: 'Centre 1–2', pressing: { leftTonnes: 4.1, rightTonnes: 3.8 } }],
    middle: [{ name: 'Centre 1–2', final: { mm: 0.021, stepMm: 0.001 }, allowed: { maxMm: 0.04, whose: 'ours' }, verdict: 'within' }],
    phase: [angle()],
    ...change,
  }
}

const lineOf = (data: CertificateData, what: string) => certificateTable(data).find((line) => line.what === what)

describe('the table of a sheet with several throws', () => {
  test('has both ends, the rows of each throw by its name, the middle and the angles', () => {
    expect(certificateTable(twin()).map((line) => line.what)).toEqual([
      'Left end, full swing',
      'Right end, full swing',
      'Throw 1, width over webs',
      'Throw 1, rod side clearance',
      'Throw 1, big-end play, up and down',
      'Throw 2, width over webs',
      'Throw 2, rod side clearance',
      'Throw 2, big-end play, up and down',
      'Centre 1–2, full swing',
      'Throw 2, angle from throw 1',
    ])
  })

  // By hand: 180.22 is further off than 180.2 and prints as 180.3; 179.78 as 179.7; a whole 180 stays.
  test.each([
    [180.22, '180.3°'],
    [179.78, '179.7°'],
    [180, '180.0°'],
    [180.3, '180.3°'],
  ])('prints an angle of %d° as %s, away from where it should stand', (deg, printed) => {
    const line = lineOf(twin({ phase: [angle({ final: { deg } })] }), 'Throw 2, angle from throw 1')
    expect([line?.nowMm, line?.allowed, line?.giveOrTake]).toEqual([printed, '179.5 – 180.5°', '0.1°'])
  })

  test('says why an angle was not read, and marks one that is out', () => {
    const unread = lineOf(
      twin({ phase: [angle({ final: { notRead: 'no wheel fits' }, verdict: 'not-read' })] }),
      'Throw 2, angle from throw 1',
    )
    expect([unread?.nowMm, unread?.notes, unread?.past]).toEqual([DASH, ['not read, because no wheel fits'], false])
    const out = lineOf(twin({ phase: [angle({ final: { deg: 181 }, verdict: 'over' })] }), 'Throw 2, angle from throw 1')
    expect([out?.verdict, out?.past]).toEqual(['over', true])
  })

  test('the rule of an old sheet without its statement reads no row that is not there', () => {
    const { worth: _worth, ...bare } = twin()
    expect(statementOfRule(bare)).toContain('“Within”')
  })
})

describe('the facts of a sheet with several throws', () => {
  test('say how it is made up and what each joint has of its own', () => {
    expect(throwFacts(twin())).toEqual([
      { name: 'Throws', says: '2, at 0° and 180°, the middle pressed; between the webs centre bearing, labyrinth' },
      { name: 'Throw 1', says: 'webs marked 318-V\u00a01L and 318-V\u00a01R; fit 0.071 left, 0.070 right' },
      { name: 'Throw 2', says: 'Ardenlow Z347-2W K1, lot A-2500' },
      { name: 'Centre 1–2', says: 'pressed on about 4 t left and 4 t right' },
    ])
    expect(certificateFacts(twin()).map((fact) => fact.name)).toContain('Throw 2')
  })

  test('say what a throw ran at alone, where it was read', () => {
    expect(aloneWords(twin())).toEqual([`Throw 1 alone, on its own shafts before it was joined: left 0.012, right ${DASH}.`])
    expect(certificateNotes(twin()).join(' ')).toContain('Throw 1 alone')
  })
})

test('a sheet of one throw says nothing of all this', () => {
  expect(throwFacts(single)).toEqual([])
  expect(aloneWords(single)).toEqual([])
  expect(certificateTable(single).map((line) => line.what)).toEqual([
    'Left end, full swing',
    'Right end, full swing',
    'Width over webs',
    'Rod side clearance',
    'Big-end play, up and down',
  ])
})
