import type { CertificateData } from '#core/certificate.ts'
import { FITTING_TEXT, PROMISE_TEXT, RUNNING_IN_TEXT } from '#core/certificate-texts.ts'
import { ruleInWords } from '#core/certificate-words.ts'

/** An ordinary sheet of the demonstration shop; what a test is about comes in as change. */
export function sampleCertificate(change: Partial<CertificateData> = {}): CertificateData {
  return {
    form: 'throwbook-certificate-1',
    number: '0412',
    heading: 'certificate',
    measuredOn: '2026-12-02',
    issuedOn: '2026-12-03',
    shop: { name: 'Kettle Row Crank Works', address: 'Mill Lane 4' },
    crank: {
      maker: 'Ruskhammar',
      code: 'R449-4X',
      cycle: '4T',
      engineNumber: 'R4-20718',
      tag: '318-V',
      webMarks: { left: '318-V L', right: '318-V R' },
      welded: false,
    },
    hours: { value: 61, how: 'metered' },
    pressings: { left: 3, right: 3 },
    kit: { maker: 'Ardenlow', model: 'R449-4X-K1', lot: 'A-2417', from: 'ours' },
    fit: { left: { mm: 0.109, stepMm: 0.001 }, right: { mm: 0.094, stepMm: 0.001 } },
    pressing: { leftTonnes: 9.1, rightTonnes: 7.9, lubricant: 'oil on the pin' },
    also: ['both mains new', 'oil hole blown through', 'rod straight'],
    passes: [
      {
        onDay: '2026-11-24',
        what: 'right web at 0.094, below our floor of 0.100, above the scrap floor of 0.077',
        reason: 'no other web to be had',
        customerToldOn: '2026-11-24',
      },
    ],
    notRead: [],
    setup: {
      held: 'v-blocks-bare',
      left: { supportMm: 44, dialMm: 45, surface: 'taper', taper: 5, says: 'taper 1:5, keyway skipped' },
      right: {
        supportMm: 44,
        dialMm: 50,
        surface: 'plain',
        diameterMm: 20,
        further: [{ fromMm: 60, surface: 'thread' }],
        says: 'plain ground',
      },
    },
    shape: { strokeMm: 62.4, throws: [{ atMm: 0, widthMm: 64, engagementMm: 21.8, pinDiameterMm: 35, pinLengthMm: 63.4 }] },
    left: {
      asReceived: { mm: 0.19, stepMm: 0.01 },
      final: { mm: 0.0117, stepMm: 0.001 },
      giveOrTakeMm: 0.007,
      houseLimitMm: 0.02,
      makerLimit: { mm: 0.03, place: 'on the bearing seats', samePlace: false },
      verdict: 'within',
    },
    right: {
      asReceived: { mm: 0.21, stepMm: 0.01 },
      final: { mm: 0.014, stepMm: 0.001 },
      giveOrTakeMm: 0.005,
      houseLimitMm: 0.02,
      verdict: 'within',
    },
    width: {
      asReceived: { mm: 64.02, stepMm: 0.01 },
      final: { placesMm: [64.0, 64.0, 64.01, 64.0], stepMm: 0.01 },
      giveOrTakeMm: 0.01,
      allowed: { minMm: 63.95, maxMm: 64.05, whose: 'makers' },
      verdict: 'within',
    },
    sideClearance: {
      asReceived: { mm: 0.61, stepMm: 0.01 },
      final: { mm: 0.36, stepMm: 0.01 },
      giveOrTakeMm: 0.02,
      allowed: { minMm: 0.25, maxMm: 0.5, whose: 'makers' },
      verdict: 'within',
    },
    bigEndPlay: {
      asReceived: { mm: 0.06, stepMm: 0.01 },
      final: { mm: 0.01, stepMm: 0.01 },
      giveOrTakeMm: 0.01,
      allowed: { maxMm: 0.05, whose: 'makers' },
      verdict: 'within',
    },
    further: [],
    again: {
      by: 'E. Lind',
      onDay: '2026-12-03',
      at: '08:05',
      left: { mm: 0.011, stepMm: 0.001 },
      right: { mm: 0.015, stepMm: 0.001 },
      samePerson: false,
      cold: true,
      temperatureC: 20.5,
    },
    instruments: [
      { name: 'Dial 4', checkedOn: '2026-10-14', overdue: false },
      { name: 'micrometer 2', checkedOn: '2026-10-01', overdue: false },
    ],
    built: [{ by: 'M. Kovac', onDay: '2026-12-02', at: '14:10' }],
    signed: { by: 'E. Lind', onDay: '2026-12-03', at: '08:20' },
    notDone: ['balancing', 'small end', 'stuffers not opened'],
    fitting: FITTING_TEXT['4T'],
    runningIn: RUNNING_IN_TEXT['4T'],
    promise: PROMISE_TEXT,
    pageUrl: 'https://kettle-row.example/check/0412?code=7K4M-9QTX',
    checkCode: '7K4M-9QTX',
    ...change,
  }
}

/** The same sheet as it is sealed since its give-or-take comes from a budget. */
export function sampleWithWorth(change: Partial<CertificateData> = {}): CertificateData {
  const dial = { name: 'dial', standardMm: 0.00173, share: 0.48 }
  return sampleCertificate({
    form: 'throwbook-certificate-2',
    worth: {
      coverage: 0.9545,
      rule: 'full-guard',
      statement: ruleInWords('full-guard', ['within']),
      warm: false,
      left: {
        k: 2,
        parts: [dial, { name: 'seats', standardMm: 0.00144, share: 0.33 }, { name: 'surface', standardMm: 0.0011, share: 0.19 }],
      },
      right: {
        k: 2.26,
        parts: [
          dial,
          { name: 'repeat', standardMm: 0.0016, share: 0.4 },
          { name: 'seats', standardMm: 0.0006, share: 0.08 },
          { name: 'reading', standardMm: 0.0004, share: 0.04 },
        ],
      },
    },
    ...change,
  })
}
